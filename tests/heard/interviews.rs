//! Whole talks: a turn is typed when the bot asks what it answers; what a talk leaves open gets a plain answer.

use lapwise::conversation::session::Open;
use lapwise::message::{Content, Say};
use lapwise::roofing::roof::FactKey;
use serde_json::Value;

use crate::hands::{Interview, Turn};
use crate::stages::facts_of;
use crate::table::Part;
use crate::talking::Chat;

/// No talk is longer.
const MOST_TURNS: usize = 80;

/// What is answered where a talk says nothing.
const PLAIN: &[(&str, &str)] = &[
    ("covering_now", "nothing, it is bare"),
    ("structure", "sound"),
    ("overhead_lines", "none"),
    ("slopes_equal", "yes"),
    ("timber_spacing", "600 mm"),
    ("wall_top", "no"),
    ("wall_side", "none"),
    ("wind_from", "left"),
    ("insulation", "no"),
    ("rafter_overhang", "0"),
    ("sheet", "fennick-sheet-2000"),
];

struct Talk {
    chat: Chat,
    left: Vec<Turn>,
    log: Vec<String>,
    says: Vec<Say>,
    fed: Vec<String>,
    /// Whether the talk's own yes to the review was heard, and what was said to it.
    agreed_at_first: Option<(bool, Option<String>)>,
}

impl Talk {
    fn say(&mut self, content: &Content) {
        let typed = match content {
            Content::Text(text) => text.clone(),
            Content::Choice { id, .. } => format!("[{id}]"),
            Content::Other(kind) => kind.clone(),
        };
        let (_, says) = self.chat.say(content);
        let said: Vec<String> = says.iter().map(|say| say.text.replace('\n', " ")).collect();
        self.log.push(format!("    you> {typed}\n    bot> {}", said.join(" // ")));
        self.says = says;
    }

    fn text(&mut self, text: &str) {
        self.say(&Content::Text(text.to_owned()));
    }

    fn take(&mut self, at: usize) {
        let turn = self.left.remove(at);
        self.text(&turn.says);
    }

    /// The turn that answers what is asked now, before the talk's yes to the review.
    fn answer_to(&self, asks: &str) -> Option<usize> {
        let until = self.left.iter().position(|turn| turn.asks == "confirm").unwrap_or(self.left.len());
        let same = |turn: &Turn| {
            turn.asks == asks
                || (turn.asks == "pitch" && asks == "rise")
                || (turn.asks == "rise" && asks == "pitch")
                || (turn.asks == "slope_length" && asks == "span")
                || (turn.asks == "span" && asks == "slope_length")
        };
        self.left.iter().take(until).position(same)
    }
}

impl Talk {
    /// Says what comes next; `false` where the talk is at its end.
    fn goes_on(&mut self, interview: &Interview) -> bool {
        if self.left.first().is_some_and(|turn| matches!(turn.asks.as_str(), "any" | "chat")) {
            self.take(0);
            return true;
        }
        if self.log.is_empty() {
            self.text("hello");
            return true;
        }
        if matches!(self.chat.session.open(), Open::Wonder(_)) {
            self.text("no");
            return true;
        }
        if let Some(asks) = self.chat.state()["asks"].as_str().map(str::to_owned) {
            return self.answers(&asks, interview);
        }
        matches!(self.chat.session.open(), Open::Review) && self.agrees()
    }

    /// Answers what is asked: with a turn of its own, by picking the first of what was offered, or plainly.
    fn answers(&mut self, asks: &str, interview: &Interview) -> bool {
        if let Some(at) = self.answer_to(asks) {
            self.take(at);
            return true;
        }
        if let Some(pick) = self.choice(|id| id.starts_with("pick")) {
            self.say(&Content::Choice { prompt: None, id: pick });
            return true;
        }
        if self.fed.iter().any(|fed| fed == asks) {
            return false;
        }
        self.fed.push(asks.to_owned());
        let plain = PLAIN.iter().find(|(fact, _)| *fact == asks).map(|(_, plain)| (*plain).to_owned());
        let known = interview.facts.get(asks);
        let known = known.map(|value| value.as_str().map_or_else(|| value.to_string(), str::to_owned));
        let answer = known.or(plain);
        if let Some(answer) = &answer {
            self.text(answer);
        }
        answer.is_some()
    }

    /// Says yes to everything that was shown back, first in the talk's own words.
    fn agrees(&mut self) -> bool {
        if let Some(at) = self.left.iter().position(|turn| turn.asks == "confirm") {
            self.take(at);
            let planned = self.chat.session.planned();
            self.agreed_at_first.get_or_insert((planned, self.log.last().cloned()));
            return true;
        }
        if self.chat.session.planned() {
            return false;
        }
        match self.choice(|id| id.ends_with("yes")) {
            Some(yes) => self.say(&Content::Choice { prompt: None, id: yes }),
            None => self.text("yes"),
        }
        true
    }

    /// The first button of that kind.
    fn choice(&self, wanted: impl Fn(&str) -> bool) -> Option<String> {
        let choices = self.says.iter().flat_map(|say| &say.choices);
        choices.map(|choice| choice.id.clone()).find(|id| wanted(id))
    }
}

/// Plays a talk and judges where it ended.
pub(crate) fn interview(part: &mut Part, hand: &str, interview: &Interview) {
    let truth = facts_of(interview.facts.iter().filter(|(key, _)| FactKey::from_key(key).is_some()));
    let mut talk = Talk {
        chat: Chat::default(),
        left: interview.turns.clone(),
        log: Vec::new(),
        says: Vec::new(),
        fed: Vec::new(),
        agreed_at_first: None,
    };
    for _ in 0..MOST_TURNS {
        if !talk.goes_on(interview) {
            break;
        }
    }
    let state = talk.chat.state();
    let wrong = verdict(interview, &state);
    if interview.outcome != "plan" {
        part.count("interviews: no plan where it must stop", state["plan"].is_null());
    }
    if let Some((agreed, said)) = talk.agreed_at_first.clone() {
        part.count("interviews: agreement heard at first", agreed);
        if !agreed {
            part.fail(format!(
                "{hand} agreement not heard in {}: {}",
                interview.name,
                said.unwrap_or_default()
            ));
        }
    }
    part.count("interviews: the right end", wrong.is_none());
    if let Some(wrong) = wrong {
        let missing: Vec<&str> = truth
            .iter()
            .filter(|(fact, value)| {
                talk.chat.session.facts().get(*fact).is_none_or(|known| !crate::stages::alike(known, value))
            })
            .map(|(fact, _)| fact.key())
            .collect();
        part.fail(format!(
            "{hand} interview {}: {wrong}; facts that differ {missing:?}\n{}",
            interview.name,
            talk.log.join("\n")
        ));
    }
}

/// What is wrong with where a talk ended; `None` where it is right.
fn verdict(interview: &Interview, state: &Value) -> Option<String> {
    let plan = &state["plan"];
    if interview.outcome != "plan" {
        return (!plan.is_null()).then(|| format!("a plan where the outcome is {}", interview.outcome));
    }
    let Some(slopes) = plan["slopes"].as_array() else {
        return Some(format!("no plan: asks {}, stopped {}", state["asks"], state["stopped"]));
    };
    let spec = interview.spec.as_ref()?;
    slopes.iter().find_map(|slope| {
        let support = slope["support"].as_str().unwrap_or_default();
        let deck = matches!(support, "full deck" | "deck");
        let support_right =
            support == spec.support || (deck && matches!(spec.support.as_str(), "deck" | "full deck"));
        let lap_right = slope["end_lap_mm"].as_f64().is_some_and(|lap| (lap - spec.end_lap_mm).abs() < 0.5);
        let side_right = slope["side_lap_corrugations"].as_i64() == Some(spec.side_lap_corrugations);
        let spacing = slope["max_purlin_spacing_mm"].as_f64();
        let spacing_right = deck
            || spec
                .max_spacing_mm
                .is_none_or(|most| spacing.is_some_and(|spacing| (spacing - most).abs() < 0.5));
        let right = support_right && lap_right && side_right && spacing_right;
        (!right).then(|| {
            format!(
                "support {support}, lap {}, side {}, spacing {spacing:?}",
                slope["end_lap_mm"], slope["side_lap_corrugations"]
            )
        })
    })
}
