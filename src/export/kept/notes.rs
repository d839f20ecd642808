//! Notes, requirements and what contributed to them, as a kept plan has them.

use std::borrow::Cow;

use serde_json::Value;

use super::codec::{Keep, fields, words};
use crate::roofing::note::{Arg, Note};
use crate::roofing::rules::{Contribution, Limit, Phase, Requirement, Requirements, Support};

fields!(Contribution { rule, limit, facts });
words!(Phase { Plan = "plan", Work = "work" });
words!(Support { Purlins = "purlins", FullDeck = "full_deck" });

/// A value with a word before it that says what it is.
fn told(kind: &str, value: Value) -> Value {
    Value::Array(vec![Value::from(kind), value])
}

fn telling(value: &Value) -> Option<(&str, &Value)> {
    match value.as_array()?.as_slice() {
        [kind, value] => Some((kind.as_str()?, value)),
        _ => None,
    }
}

impl Keep for Limit {
    fn keep(&self) -> Value {
        match self {
            Self::Length(length) => told("um", length.keep()),
            Self::Count(count) => told("count", count.keep()),
            Self::Support(support) => told("support", support.keep()),
        }
    }

    fn again(value: &Value) -> Option<Self> {
        match telling(value)? {
            ("um", value) => Keep::again(value).map(Self::Length),
            ("count", value) => Keep::again(value).map(Self::Count),
            ("support", value) => Keep::again(value).map(Self::Support),
            _ => None,
        }
    }
}

impl Keep for Requirement {
    fn keep(&self) -> Value {
        Value::from(self.key())
    }

    fn again(value: &Value) -> Option<Self> {
        Self::from_key(value.as_str()?)
    }
}

impl Keep for Requirements {
    fn keep(&self) -> Value {
        let all = self.iter().map(|(requirement, _)| (requirement, self.contributions(requirement).to_vec()));
        all.collect::<Vec<_>>().keep()
    }

    fn again(value: &Value) -> Option<Self> {
        let mut all = Self::default();
        for (requirement, contributions) in <Vec<(Requirement, Vec<Contribution>)>>::again(value)? {
            for contribution in contributions {
                all.tighten(requirement, contribution);
            }
        }
        Some(all)
    }
}

impl Keep for Note {
    fn keep(&self) -> Value {
        let args: Vec<(String, Value)> =
            self.args.iter().map(|(name, arg)| (name.clone().into_owned(), arg.keep())).collect();
        let args = args.into_iter().map(|(name, arg)| told(&name, arg)).collect();
        Value::Array(vec![self.message.keep(), Value::Array(args)])
    }

    fn again(value: &Value) -> Option<Self> {
        let [message, args] = value.as_array()?.as_slice() else { return None };
        let args = args.as_array()?.iter().map(|arg| {
            let (name, arg) = telling(arg)?;
            Some((Cow::Owned(name.to_owned()), Arg::again(arg)?))
        });
        Some(Self { message: String::again(message)?, args: args.collect::<Option<_>>()? })
    }
}

impl Keep for Arg {
    fn keep(&self) -> Value {
        match self {
            Self::Length(length) => told("length", length.keep()),
            Self::Size(size) => told("size", size.keep()),
            // A figure in the unit somebody typed is said in a chat, never in a plan: the figure itself will do.
            Self::Reading(reading) => match reading.amount {
                crate::units::reading::Amount::Length(length) => told("length", length.keep()),
                crate::units::reading::Amount::Angle(angle) => told("angle", angle.keep()),
            },
            Self::Lengths(lengths) => told("lengths", lengths.keep()),
            Self::Angle(angle) => told("angle", angle.keep()),
            Self::Area(area) => told("area", area.keep()),
            Self::Mass(mass) => told("mass", mass.keep()),
            Self::Money(money) => told("money", money.keep()),
            Self::Count(count) => told("count", count.keep()),
            Self::Text(text) => told("text", text.keep()),
            Self::Word(word) => told("word", word.keep()),
            Self::Note(note) => told("note", note.keep()),
            Self::Notes(notes) => told("notes", notes.keep()),
        }
    }

    fn again(value: &Value) -> Option<Self> {
        match telling(value)? {
            ("length", value) => Keep::again(value).map(Self::Length),
            ("size", value) => Keep::again(value).map(Self::Size),
            ("lengths", value) => Keep::again(value).map(Self::Lengths),
            ("angle", value) => Keep::again(value).map(Self::Angle),
            ("area", value) => Keep::again(value).map(Self::Area),
            ("mass", value) => Keep::again(value).map(Self::Mass),
            ("money", value) => Keep::again(value).map(Self::Money),
            ("count", value) => Keep::again(value).map(Self::Count),
            ("text", value) => Keep::again(value).map(Self::Text),
            ("word", value) => Keep::again(value).map(Self::Word),
            ("note", value) => Note::again(value).map(|note| Self::Note(Box::new(note))),
            ("notes", value) => Keep::again(value).map(Self::Notes),
            _ => None,
        }
    }
}
