//! The entries of a catalogue as the adviser writes them.

use serde::Deserialize;
use toml::Spanned;

/// Each kind of entry has the fields every item has, and its own.
macro_rules! entries {
    ($($name:ident { $($(#[$attribute:meta])* $field:ident : $kind:ty),* $(,)? })+) => {
        $(
            #[derive(Deserialize)]
            #[serde(deny_unknown_fields)]
            pub(super) struct $name {
                pub(super) id: Spanned<String>,
                pub(super) name: Spanned<String>,
                pub(super) spec: Option<String>,
                pub(super) pack: Option<Spanned<i64>>,
                pub(super) price: Option<Spanned<String>>,
                $($(#[$attribute])* pub(super) $field: $kind),*
            }

            impl $name {
                pub(super) fn label(&self) -> Label<'_> {
                    Label {
                        id: &self.id,
                        name: &self.name,
                        spec: self.spec.as_deref(),
                        pack: self.pack.as_ref(),
                        price: self.price.as_ref(),
                    }
                }
            }
        )+
    };
}

entries! {
    FinialEntry { mass_g: Spanned<i64> }
    SheetEntry {
        mass_g: Spanned<i64>,
        covering: Spanned<String>,
        length_mm: Spanned<f64>,
        width_mm: Spanned<f64>,
        corrugations: Spanned<i64>,
        corrugation_pitch_mm: Spanned<f64>,
        corrugation_height_mm: Spanned<f64>,
        thickness_mm: Spanned<f64>,
        min_piece_mm: Spanned<f64>,
        max_extra_lap_mm: Spanned<f64>,
        extra_side_lap: bool,
        stagger: bool,
    }
    FastenerEntry {
        mass_g: Spanned<i64>,
        #[serde(rename = "use")]
        usage: Spanned<String>,
        covering: Option<Spanned<String>>,
        length_mm: Spanned<f64>,
        diameter_mm: Spanned<f64>,
        shank: Spanned<String>,
        head_mm: Spanned<f64>,
        coating: Spanned<String>,
        withdrawal_n_mm2: Option<Spanned<f64>>,
    }
    EdgeEntry {
        mass_g: Spanned<i64>,
        covering: Spanned<String>,
        edge: Spanned<String>,
        length_mm: Spanned<f64>,
        lap_mm: Spanned<f64>,
        wing_mm: Spanned<f64>,
        thickness_mm: Spanned<f64>,
        from_deg: Spanned<f64>,
        to_deg: Spanned<f64>,
    }
    TimberEntry {
        width_mm: Spanned<f64>,
        depth_mm: Spanned<f64>,
        stock_mm: Spanned<Vec<Spanned<f64>>>,
        mass_per_m_g: Spanned<i64>,
        price_per_m: Option<Spanned<String>>,
        class: Option<Spanned<String>>,
    }
    SundryEntry {
        mass_g: Spanned<i64>,
        #[serde(rename = "use")]
        usage: Spanned<String>,
        length_mm: Spanned<f64>,
    }
    AreaEntry {
        mass_g: Spanned<i64>,
        #[serde(rename = "use")]
        usage: Spanned<String>,
        length_mm: Spanned<f64>,
        width_mm: Spanned<f64>,
        thickness_mm: Spanned<f64>,
        lap_mm: Spanned<f64>,
        board: Option<Spanned<String>>,
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CoveringEntry {
    pub(super) id: Spanned<String>,
    pub(super) name: Spanned<String>,
    pub(super) fixing: Spanned<String>,
    pub(super) stock: Spanned<String>,
    pub(super) on_deck: bool,
    pub(super) edges: Spanned<Vec<Spanned<String>>>,
    pub(super) finials: bool,
    pub(super) wording: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RangeEntry {
    pub(super) version: String,
    pub(super) demo: bool,
    pub(super) prices_from: Spanned<String>,
    pub(super) currency: Spanned<String>,
    pub(super) tools: Vec<String>,
    pub(super) protective: Vec<String>,
}

#[derive(Clone, Copy)]
pub(super) struct Label<'e> {
    pub(super) id: &'e Spanned<String>,
    pub(super) name: &'e Spanned<String>,
    pub(super) spec: Option<&'e str>,
    pub(super) pack: Option<&'e Spanned<i64>>,
    pub(super) price: Option<&'e Spanned<String>>,
}
