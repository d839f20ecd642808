//! How the parts of a plan become JSON and come back: structures as lists in a fixed order, for they are many.
//!
//! [`fields!`] names every field of a structure, so that a new one does not compile until it is kept; it then says what
//! that field is of a plan that was kept before there was such a field.

use std::sync::Arc;

use serde_json::Value;

use crate::roofing::facts::{FactKey, FactValue, Facts, Words};
use crate::units::{Angle, Area, Currency, Day, Doubt, Length, Mass, Measured, Money};

/// Something that is kept as part of a plan.
pub(super) trait Keep: Sized {
    /// As JSON.
    fn keep(&self) -> Value;
    /// From JSON; `None` where that is something else.
    fn again(value: &Value) -> Option<Self>;
}

/// Keeps a structure as the list of its fields. `later` names those that plans kept earlier have not, each with what
/// it is there.
macro_rules! fields {
    ($type:ident { $($field:ident),+ $(,)? } $(later { $($later:ident = $earlier:expr),+ $(,)? })?) => {
        impl $crate::export::kept::codec::Keep for $type {
            fn keep(&self) -> serde_json::Value {
                let Self { $($field),+ $(, $($later),+)? } = self;
                serde_json::Value::Array(vec![
                    $($crate::export::kept::codec::Keep::keep($field)),+
                    $(, $($crate::export::kept::codec::Keep::keep($later)),+)?
                ])
            }

            fn again(value: &serde_json::Value) -> Option<Self> {
                let mut parts = value.as_array()?.iter();
                let again = Self {
                    $($field: $crate::export::kept::codec::Keep::again(parts.next()?)?),+
                    $(, $($later: match parts.next() {
                        Some(kept) => $crate::export::kept::codec::Keep::again(kept)?,
                        None => $earlier,
                    }),+)?
                };
                parts.next().is_none().then_some(again)
            }
        }
    };
}

/// Keeps a list of names by a word for each.
macro_rules! words {
    ($type:ident { $($variant:ident = $word:literal),+ $(,)? }) => {
        impl $crate::export::kept::codec::Keep for $type {
            fn keep(&self) -> serde_json::Value {
                serde_json::Value::from(match self { $(Self::$variant => $word),+ })
            }

            fn again(value: &serde_json::Value) -> Option<Self> {
                match value.as_str()? {
                    $($word => Some(Self::$variant),)+
                    _ => None,
                }
            }
        }
    };
}

pub(super) use {fields, words};

impl Keep for String {
    fn keep(&self) -> Value {
        Value::from(self.as_str())
    }

    fn again(value: &Value) -> Option<Self> {
        value.as_str().map(str::to_owned)
    }
}

impl Keep for bool {
    fn keep(&self) -> Value {
        Value::from(*self)
    }

    fn again(value: &Value) -> Option<Self> {
        value.as_bool()
    }
}

impl Keep for i64 {
    fn keep(&self) -> Value {
        Value::from(*self)
    }

    fn again(value: &Value) -> Option<Self> {
        value.as_i64()
    }
}

impl Keep for u64 {
    fn keep(&self) -> Value {
        Value::from(*self)
    }

    fn again(value: &Value) -> Option<Self> {
        value.as_u64()
    }
}

impl Keep for u32 {
    fn keep(&self) -> Value {
        Value::from(*self)
    }

    fn again(value: &Value) -> Option<Self> {
        Self::try_from(value.as_u64()?).ok()
    }
}

impl Keep for usize {
    fn keep(&self) -> Value {
        Value::from(*self)
    }

    fn again(value: &Value) -> Option<Self> {
        Self::try_from(value.as_u64()?).ok()
    }
}

impl<T: Keep> Keep for Vec<T> {
    fn keep(&self) -> Value {
        Value::Array(self.iter().map(Keep::keep).collect())
    }

    fn again(value: &Value) -> Option<Self> {
        value.as_array()?.iter().map(T::again).collect()
    }
}

impl<T: Keep> Keep for Option<T> {
    fn keep(&self) -> Value {
        self.as_ref().map_or(Value::Null, Keep::keep)
    }

    fn again(value: &Value) -> Option<Self> {
        if value.is_null() { Some(None) } else { T::again(value).map(Some) }
    }
}

impl<T: Keep> Keep for Arc<T> {
    fn keep(&self) -> Value {
        T::keep(self)
    }

    fn again(value: &Value) -> Option<Self> {
        T::again(value).map(Self::new)
    }
}

impl<A: Keep, B: Keep> Keep for (A, B) {
    fn keep(&self) -> Value {
        Value::Array(vec![self.0.keep(), self.1.keep()])
    }

    fn again(value: &Value) -> Option<Self> {
        match value.as_array()?.as_slice() {
            [a, b] => Some((A::again(a)?, B::again(b)?)),
            _ => None,
        }
    }
}

impl Keep for Length {
    fn keep(&self) -> Value {
        self.um().keep()
    }

    fn again(value: &Value) -> Option<Self> {
        i64::again(value).map(Self::from_um)
    }
}

impl Keep for Angle {
    fn keep(&self) -> Value {
        self.microdeg().keep()
    }

    fn again(value: &Value) -> Option<Self> {
        i64::again(value).map(Self::from_microdeg)
    }
}

impl Keep for Mass {
    fn keep(&self) -> Value {
        self.g().keep()
    }

    fn again(value: &Value) -> Option<Self> {
        i64::again(value).map(Self::from_g)
    }
}

/// As text: square micrometres outgrow the numbers of JSON.
impl Keep for Area {
    fn keep(&self) -> Value {
        self.um2().to_string().keep()
    }

    fn again(value: &Value) -> Option<Self> {
        value.as_str()?.parse().ok().map(Self::from_um2)
    }
}

impl Keep for Money {
    fn keep(&self) -> Value {
        (self.amount.to_string(), self.currency.code().to_owned()).keep()
    }

    fn again(value: &Value) -> Option<Self> {
        let (amount, code) = <(String, String)>::again(value)?;
        Some(Self { amount: amount.parse().ok()?, currency: Currency::from_code(&code)? })
    }
}

impl Keep for Day {
    fn keep(&self) -> Value {
        self.to_string().keep()
    }

    fn again(value: &Value) -> Option<Self> {
        Self::from_text(value.as_str()?)
    }
}

words!(Doubt {
    Stated = "stated", About = "about", JustUnder = "just_under", JustOver = "just_over", ByPhone = "by_phone",
});

impl<T: Keep> Keep for Measured<T> {
    fn keep(&self) -> Value {
        Value::Array(vec![self.value.keep(), self.doubt.keep()])
    }

    fn again(value: &Value) -> Option<Self> {
        let (value, doubt) = <(T, Doubt)>::again(value)?;
        Some(Self { value, doubt })
    }
}

impl Keep for FactKey {
    fn keep(&self) -> Value {
        Value::from(self.key())
    }

    fn again(value: &Value) -> Option<Self> {
        Self::from_key(value.as_str()?)
    }
}

impl Keep for FactValue {
    fn keep(&self) -> Value {
        let (kind, value) = match self {
            Self::Length(length) => ("um", length.keep()),
            Self::Angle(angle) => ("microdeg", angle.keep()),
            Self::Choice(id) => ("choice", id.keep()),
            Self::Count(count) => ("count", count.keep()),
            Self::Words(words) => ("words", words.as_str().to_owned().keep()),
        };
        Value::Array(vec![Value::from(kind), value])
    }

    fn again(value: &Value) -> Option<Self> {
        let [kind, value] = value.as_array()?.as_slice() else { return None };
        match kind.as_str()? {
            "um" => Measured::again(value).map(Self::Length),
            "microdeg" => Measured::again(value).map(Self::Angle),
            "choice" => String::again(value).map(Self::Choice),
            "count" => i64::again(value).map(Self::Count),
            "words" => Words::new(value.as_str()?).map(Self::Words),
            _ => None,
        }
    }
}

impl Keep for Facts {
    fn keep(&self) -> Value {
        self.iter().map(|(key, value)| (key, value.clone())).collect::<Vec<_>>().keep()
    }

    fn again(value: &Value) -> Option<Self> {
        let mut facts = Self::default();
        let kept = <Vec<(FactKey, FactValue)>>::again(value)?;
        kept.into_iter().all(|(key, value)| facts.set(key, value)).then_some(facts)
    }
}
