//! A value with how sure the person was of it.

/// How a person came by a figure, as far as their words tell.
///
/// What each kind of doubt is worth in millimetres or degrees is the adviser's to say
/// (`dialogs/rules/doubt.toml`), not ours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Doubt {
    /// Said plainly: taken as it stands.
    #[default]
    Stated,
    /// "about", "roughly", "ish": may be off either way.
    About,
    /// "just under", "nearly": may be a little less.
    JustUnder,
    /// "just over", "a bit over": may be a little more.
    JustOver,
    /// Read off a phone's inclinometer.
    ByPhone,
}

/// A figure as measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Measured<T> {
    /// The figure itself.
    pub value: T,
    /// How sure the person was.
    pub doubt: Doubt,
}

impl<T> Measured<T> {
    /// A figure said plainly.
    pub const fn stated(value: T) -> Self {
        Self { value, doubt: Doubt::Stated }
    }
}
