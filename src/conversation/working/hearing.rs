//! What is said on the job: done, next, problem, counts, stopping, and what turned out different.

use std::sync::LazyLock;

use regex::Regex;

use crate::roofing::work::{Goods, StepKind, Stop};
use crate::units::reading::{Amount, Context, Reading, Verdict, read};
use crate::units::{Length, Quantity, UsualUnit};

/// Something said on the job.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Order {
    /// Begin, or take up again.
    Start,
    /// The step in hand is done.
    Done,
    /// Everything of this kind that comes next is done.
    AllDone(StepKind),
    /// What comes after the step in hand.
    Peek,
    /// The step in hand once more.
    WhereWasI,
    /// How much is left.
    HowMany,
    /// Something is wrong.
    Problem,
    /// The work stops.
    Stop(Stop),
    /// So many used or left.
    Counted(Vec<Count>),
    /// Sheets are spoilt; part of one may still be used.
    Spoilt { sheets: i64, kept: Option<Length> },
    /// The roof is out of square, by so much.
    OutOfSquare(Option<Length>),
    /// Both diagonals, the first from the lower left.
    Diagonals(Length, Length),
    /// Only sheets of this length can be had.
    SheetsOf(Length),
    /// Sheets like the planned ones cannot be had; of this length, where that is said.
    NoSheets(Option<Length>),
    /// The proposed change holds.
    Accept,
    /// The proposed change is dropped.
    Leave,
}

/// A count as it was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Count {
    pub(super) goods: Goods,
    pub(super) number: i64,
    pub(super) left: bool,
}

struct Patterns {
    start: Regex,
    done: Regex,
    all_done: Regex,
    peek: Regex,
    where_was_i: Regex,
    how_many: Regex,
    problem: Regex,
    pause: Regex,
    wet: Regex,
    wind: Regex,
    not_weather: Regex,
    count: Regex,
    used: Regex,
    left: Regex,
    spoilt: Regex,
    not_sheets: Regex,
    out_of_square: Regex,
    supplier: Regex,
    sold_out: Regex,
    whether: Regex,
    accept: Regex,
    leave: Regex,
}

const NUMBER: &str = r"(?:\d{1,3}(?:[ ,]\d{3})+|\d+|an?|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty|thirty|forty|fifty)";

static PATTERNS: LazyLock<Option<Patterns>> = LazyLock::new(|| {
    let whole = |pattern: &str| {
        Regex::new(&format!(
            r"(?i)^(?:(?:ok|okay|right|yes|yep|hi|hey|so|well|great|please)[ ,.!]+)*(?:{pattern})(?:[ ,.!]+(?:please|thanks|thank you|mate|now|then|again|today))*[ .!?]*$"
        ))
        .ok()
    };
    let within = |pattern: &str| Regex::new(&format!("(?i){pattern}")).ok();
    Some(Patterns {
        start: whole(
            r"(?:(?:let'?s |shall we |can we |i(?:'m| am) ready to |i (?:want|need|would like|'d like) to |time to |we(?:'re| are) ready to )*(?:start|begin|get started on|crack on with|get on with)(?: with)?(?: the)?(?: (?:work|job|roof|roofing|first step))|(?:the )?(?:order of work,? )?step by step|(?:walk|take|lead|talk) me through (?:it|the (?:work|job|steps))|let'?s (?:start|begin|go|get started|do it)|back (?:on the (?:roof|job)|at it|to work))",
        )?,
        done: whole(
            r"(?:(?:it'?s|that'?s|that is|all|this (?:one|step) is|now|we'?re|i'?m) )*(?:done|finished|complete(?:d)?|sorted|ticked|fitted|in place)(?: (?:it|(?:that|this)(?: (?:one|step|bit))?|here|with (?:it|that)|done))?|ne?xt(?: (?:one|step))?|tick|did (?:it|that)(?: one)?|✅|☑️?|✔️?|👍",
        )?,
        all_done: whole(
            r"(?:(?:i'?ve|we'?ve|i have|we have) )?(?:(?:done|fitted|finished|nailed|fixed|put in|laid) )?(?:all )?(?:of )?(?:the )?(purlins|nails|nailing|lines|sheets|courses)(?: (?:are|is))?(?: (?:all|now))?(?: (?:done|finished|in|fitted|on|down|up|laid))",
        )?,
        peek: whole(
            r"what(?:'?s| is| comes| do i do)? (?:next|after (?:that|this))|and (?:then|after that)",
        )?,
        where_was_i: whole(
            r"where (?:was|am|are|were) (?:i|we)(?: (?:up to|at))?|what (?:was|am|were) (?:i|we) (?:doing|on)|(?:which|what) step(?: (?:am|was|are) (?:i|we) (?:on|at))?|(?:show|tell|give)(?: me)? (?:the |this |that )?step|(?:say|read|repeat) (?:it|that|the step)|(?:go|carry) on|continue|resume|(?:i'?m|we'?re) back|repeat|/?resume",
        )?,
        how_many: within(
            r"^\W*(?:so |and |ok )*(?:how (?:many|much)\b.*\b(?:left|to go|remain\w*|more)\b|how far (?:along|am i|have i)|how much longer|how long (?:is )?(?:left|to go)|what'?s left)",
        )?,
        problem: whole(
            r"(?:(?:i(?:'ve| have)?|there(?:'s| is)|we(?:'ve| have)?|got|have) )*(?:got |hit )?(?:a )?(?:problem|trouble|snag|issue)s?|(?:something(?:'?s| is)|that'?s|it'?s) (?:wrong|not right|gone wrong|different)|(?:it|this|that) (?:doesn'?t|does not|won'?t) (?:fit|work|line up)|(?:i'?m )?stuck|(?:i(?:'ve)? |we(?:'ve)? )(?:messed|mucked|cocked|screwed|botched) (?:(?:it|this|that|something) )?up|(?:i(?:'ve)? )?made a (?:mistake|mess|hash)(?: of (?:it|this|that))?",
        )?,
        pause: within(
            r"\b(?:pause|call(?:ing)? it a day|(?:take|have|need|having|taking) a (?:break|rest)|knock(?:ing)? off|packing up|pack up for|(?:stop|finish|done|leave it|that'?s it|that'?s me|enough) (?:here )?(?:for|until|till) (?:today|now|the day|tonight|tomorrow|lunch|the week\w*|monday|next week)|(?:carry on|come back|continue|go on|finish|do the rest) (?:it )?(?:tomorrow|later|another day|next week\w*|at the weekend|in the morning)|(?:getting|gone|going|too) dark|can (?:i|we) stop|i(?:'ll| will| need to| have to|'ve got to) stop|^\W*stop\W*$)",
        )?,
        wet: within(
            r"\b(?:rain(?:s|ed|ing|y)?|drizzl\w*|pour(?:s|ing)|pissing|chucking it|wet|snow\w*|frost\w*|icy|ice|hail\w*|shower(?:s|y)?|sleet\w*)\b",
        )?,
        wind: within(
            r"\b(?:wind(?:s|y)?|gust\w*|storm\w*|gale\w*|blowing|blowy|breez\w*|thunder\w*|lightning)\b",
        )?,
        not_weather: within(
            r"\b(?:from (?:the )?(?:left|right|front|back|behind|east|west|north|south)|mostly|prevailing|leak\w*|breeze.?blocks?|noisy|noise|loud|windows?|wet (?:rot|wood|timber|felt)|rotten|(?:hands?|fingers?|gloves?|boots?|socks?|feet|phone|screen) (?:(?:are|is|get|got|too|so|all|a bit) )*(?:wet|icy)|wet (?:hands?|fingers?|gloves?|boots?|socks?|feet|phone)|(?:if|when|whether|in case) (?:it|the|there(?:'s| is)?|we get) (?:\w+ ){0,3}(?:rain\w*|wind\w*|snow\w*|storm\w*|wet|pours|gust\w*|blow\w*))\b",
        )?,
        count: within(&format!(
            r"\b({NUMBER})\s+(?:(?:more|of (?:the|my)|whole|full|spare|good|roofing)\s+)*(sheets?|nails?|deck screws?|purlin screws?|screws?|ridge (?:pieces?|caps?)|ridges?|verge pieces?|verges?|top (?:edge )?pieces?|flashings?|fillers?|foam fillers?)\b"
        ))?,
        used: within(
            r"\b(?:used|gone through|got through|nailed|put (?:in|down|up|on)|laid|fixed|hammered)\b",
        )?,
        left: within(
            r"\b(?:left|remaining|remain|only (?:have|got|has)|have only|(?:'ve|have) (?:only )?got|got only|down to|i have)\b",
        )?,
        spoilt: within(&format!(
            r"\b(?:cut|cutting|sawn|sawed) (?:({NUMBER})|it|the|this|that|another)\b[^.]*\b(?:wrong\w*|too (?:short|narrow|small)|short|badly|crooked|mistake)|\b(?:cracked|broke|broken|split|damaged|ruined|spoil(?:t|ed)|snapped|torn|tore|wrecked|dented|dropped|bent|creased)\b(?: (?:({NUMBER})|it|the|this|that|another))?[^.]*\b(?:sheets?|one|piece)\b|\b(?:({NUMBER})|the|a|this|that|my) (?:of the )?(?:sheets?|piece)\b[^.]*\b(?:cracked|broke|broken|split|damaged|ruined|spoil(?:t|ed)|snapped|torn|wrecked|dented|too short|cut wrong|creased)\b"
        ))?,
        not_sheets: within(
            r"\b(?:legs?|arms?|foot|feet|heads?|hands?|fingers?|toes?|ankle|wrist|back hurts|hurt\w*|bleed\w*|blood|myself|him|her|someone|somebody|asbestos|cement|ladder|glass|window)\b",
        )?,
        out_of_square: within(
            r"\b(?:out of (?:square|true)|not square|isn'?t square|out by|tapers?|tapered)\b",
        )?,
        supplier: within(
            r"\b(?:supplier|suppliers|merchants?|shop|store|yard|counter|builders|they)\b[^.]*\b(?:only|just)\b|\b(?:can only|could only|only) (?:get|buy|find|sell|stock)\b",
        )?,
        sold_out: within(
            r"\b(?:supplier|suppliers|merchants?|shop|store|yard|counter|builders|they|they'?(?:re|ve)|there(?:'s| is| are))\b[^.]*\b(?:no|none|out of|sold out|run out|ran out|haven'?t (?:got )?any|hasn'?t (?:got )?any|don'?t (?:have|do|sell|stock)|doesn'?t (?:have|do|sell|stock)|stopped (?:doing|making|selling)|can'?t get)\b[^.]*\b(?:sheets?|ones|any)\b[^.]*|\b(?:can'?t|cannot|couldn'?t) (?:get|find|buy)\b[^.]*\bsheets?\b",
        )?,
        whether: within(
            r"^\W*(?:and |so |but )?(?:will|would|can|could|should|shall|is|are|does|do|if|what if|what happens|how do (?:i|you|we) (?:stop|avoid|keep))\b",
        )?,
        accept: whole(
            r"(?:i )?accept(?: (?:it|that|the change))?|agreed?|change it|do (?:it|that)|make (?:it|that|the change)(?: so)?|go ahead|yes|yep|yeah|ok|okay|y|👍|✅",
        )?,
        leave: whole(
            r"leave it(?: (?:as it (?:is|was)|be|alone))?|no|nope|nah|n|don'?t(?: (?:change it|do (?:it|that)))?|forget (?:it|that)|cancel|never ?mind|keep (?:it|the (?:old )?plan)(?: as it (?:is|was))?|undo|back|/?back|/?cancel",
        )?,
    })
});

/// Whether a message asks to begin the work.
pub(in crate::conversation) fn starts(text: &str) -> bool {
    let text = plain(text);
    PATTERNS.as_ref().is_some_and(|patterns| patterns.start.is_match(&text))
}

/// A plain yes or no to a proposed change.
pub(super) fn settles(text: &str) -> Option<Order> {
    let (patterns, text) = (PATTERNS.as_ref()?, plain(text));
    if patterns.leave.is_match(&text) {
        Some(Order::Leave)
    } else if patterns.accept.is_match(&text) {
        Some(Order::Accept)
    } else {
        None
    }
}

/// What a message says on the job, where it says something of the work.
pub(super) fn recognise(text: &str) -> Option<Order> {
    let patterns = PATTERNS.as_ref()?;
    let text = plain(text);
    if patterns.start.is_match(&text) {
        return Some(Order::Start);
    }
    if patterns.peek.is_match(&text) {
        return Some(Order::Peek);
    }
    if patterns.done.is_match(&text) {
        return Some(Order::Done);
    }
    if let Some(kind) = all_done(patterns, &text) {
        return Some(Order::AllDone(kind));
    }
    if patterns.where_was_i.is_match(&text) {
        return Some(Order::WhereWasI);
    }
    if patterns.how_many.is_match(&text) {
        return Some(Order::HowMany);
    }
    if patterns.problem.is_match(&text) {
        return Some(Order::Problem);
    }
    different(patterns, &text).or_else(|| counted(patterns, &text)).or_else(|| stops(patterns, &text))
}

fn plain(text: &str) -> String {
    text.trim().replace('’', "'")
}

fn all_done(patterns: &Patterns, text: &str) -> Option<StepKind> {
    match patterns.all_done.captures(text)?.get(1)?.as_str().to_lowercase().as_str() {
        "purlins" => Some(StepKind::Purlin),
        "lines" => Some(StepKind::Lines),
        "nails" | "nailing" => Some(StepKind::Nails),
        _ => None,
    }
}

fn stops(patterns: &Patterns, text: &str) -> Option<Order> {
    if patterns.not_weather.is_match(text) {
        return None;
    }
    if patterns.wind.is_match(text) {
        Some(Order::Stop(Stop::Wind))
    } else if patterns.wet.is_match(text) {
        Some(Order::Stop(Stop::Wet))
    } else if patterns.pause.is_match(text) {
        Some(Order::Stop(Stop::Pause))
    } else {
        None
    }
}

fn different(patterns: &Patterns, text: &str) -> Option<Order> {
    if text.to_lowercase().contains("diagonal")
        && let Verdict::Values(readings) = read_as(Quantity::Length, text)
        && let [a, b] = readings.as_slice()
        && let (Some(a), Some(b)) = (length(a), length(b))
    {
        return Some(Order::Diagonals(a, b));
    }
    if patterns.out_of_square.is_match(text) {
        return Some(Order::OutOfSquare(one_length(Quantity::Overhang, text)));
    }
    if patterns.supplier.is_match(text)
        && let Some(length) = sheets_of(patterns, text)
    {
        return Some(Order::SheetsOf(length));
    }
    if patterns.sold_out.is_match(text) && !patterns.whether.is_match(text) {
        return Some(Order::NoSheets(one_length(Quantity::SheetLength, text)));
    }
    if let Some(found) = patterns.spoilt.captures(text)
        && !patterns.not_sheets.is_match(text)
        && !patterns.whether.is_match(text)
    {
        let said = found.iter().skip(1).flatten().next();
        let sheets = said.and_then(|number| number_of(number.as_str())).unwrap_or(1);
        let said_after = said.and_then(|number| text.get(number.end()..)).unwrap_or(text);
        return Some(Order::Spoilt { sheets, kept: kept_length(said_after) });
    }
    None
}

/// "1 800 sheets" are sheets of that length, for nobody sells so many.
fn sheets_of(patterns: &Patterns, text: &str) -> Option<Length> {
    let (low, high) = Quantity::SheetLength.length_band()?;
    let number = patterns.count.captures(text).and_then(|found| number_of(found.get(1)?.as_str()));
    match number.map(Length::from_mm) {
        // "Only has 8 sheets" says how many there are, not how long.
        Some(length) => (low..=high).contains(&length).then_some(length),
        None => one_length(Quantity::SheetLength, text),
    }
}

/// How long the spoilt piece is, where that is said; not how long it should have been.
fn kept_length(text: &str) -> Option<Length> {
    let wanted = ["instead", "should", "rather than", "supposed", "meant"];
    let end = wanted.iter().filter_map(|word| text.find(word)).min().unwrap_or(text.len());
    let is = text.get(..end).filter(|is| is.chars().any(|c| c.is_ascii_digit()))?;
    one_length(Quantity::SheetLength, is)
}

fn counted(patterns: &Patterns, text: &str) -> Option<Order> {
    let left = patterns.left.is_match(text);
    if !left && !patterns.used.is_match(text) {
        return None;
    }
    let mut counts: Vec<Count> = Vec::new();
    for found in patterns.count.captures_iter(text) {
        let (Some(number), Some(word)) = (found.get(1), found.get(2)) else { continue };
        let clause = clause_around(text, word.start());
        // "Used 6 sheets and have 40 nails left": each count goes by the words around it.
        let left = if patterns.used.is_match(clause) { false } else { left };
        if let (Some(number), Some(goods)) = (number_of(number.as_str()), goods_of(word.as_str())) {
            counts.retain(|earlier| earlier.goods != goods);
            counts.push(Count { goods, number, left });
        }
    }
    (!counts.is_empty()).then_some(Order::Counted(counts))
}

/// The part of a sentence that a place in it belongs to: from one comma, "but" or full stop to the next.
fn clause_around(text: &str, at: usize) -> &str {
    let ends = [",", ";", ". ", " but ", " have ", " with "];
    let start = ends.iter().filter_map(|end| text.get(..at)?.rfind(end).map(|found| found + end.len())).max();
    let start = start.unwrap_or(0);
    let end = [",", ";", ". ", " but "]
        .iter()
        .filter_map(|end| text.get(at..)?.find(end).map(|found| found + at))
        .min()
        .unwrap_or(text.len());
    text.get(start..end).unwrap_or(text)
}

fn goods_of(word: &str) -> Option<Goods> {
    let word = word.to_lowercase();
    let has = |part: &str| word.contains(part);
    if has("sheet") {
        Some(Goods::Sheets)
    } else if has("nail") {
        Some(Goods::Nails)
    } else if has("deck screw") {
        Some(Goods::DeckScrews)
    } else if has("screw") {
        Some(Goods::PurlinScrews)
    } else if has("ridge") {
        Some(Goods::Ridge)
    } else if has("verge") {
        Some(Goods::Verge)
    } else if has("top") {
        Some(Goods::TopEdge)
    } else if has("filler") {
        Some(Goods::EavesFiller)
    } else if has("flashing") {
        Some(Goods::WallTop)
    } else {
        None
    }
}

fn number_of(text: &str) -> Option<i64> {
    const WORDS: &[(&str, i64)] = &[
        ("a", 1),
        ("an", 1),
        ("one", 1),
        ("two", 2),
        ("three", 3),
        ("four", 4),
        ("five", 5),
        ("six", 6),
        ("seven", 7),
        ("eight", 8),
        ("nine", 9),
        ("ten", 10),
        ("eleven", 11),
        ("twelve", 12),
        ("fifteen", 15),
        ("twenty", 20),
        ("thirty", 30),
        ("forty", 40),
        ("fifty", 50),
    ];
    let word = text.trim().to_lowercase();
    if let Some((_, number)) = WORDS.iter().find(|(known, _)| *known == word) {
        return Some(*number);
    }
    let digits: String = word.chars().filter(char::is_ascii_digit).collect();
    digits.parse().ok().filter(|number| *number <= 100_000)
}

fn read_as(quantity: Quantity, text: &str) -> Verdict {
    read(text, &Context { quantity, usual: Some(UsualUnit::Mm), boundaries: &[] })
}

fn one_length(quantity: Quantity, text: &str) -> Option<Length> {
    match read_as(quantity, text) {
        Verdict::Value(reading) => length(&reading),
        Verdict::Ambiguous { readings, .. } | Verdict::Values(readings) => readings.first().and_then(length),
        Verdict::Reject { .. } => None,
    }
}

fn length(reading: &Reading) -> Option<Length> {
    match reading.amount {
        Amount::Length(length) => Some(length),
        Amount::Angle(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_on_a_roof_is_heard() {
        let mm = Length::from_mm;
        let count = |goods, number, left| Count { goods, number, left };
        for (text, order) in [
            ("start the work", Order::Start),
            ("ok let's start the job", Order::Start),
            ("done", Order::Done),
            ("Done!", Order::Done),
            ("ok next", Order::Done),
            ("that's done", Order::Done),
            ("what's next?", Order::Peek),
            ("purlins are all in", Order::AllDone(StepKind::Purlin)),
            ("where was I?", Order::WhereWasI),
            ("carry on", Order::WhereWasI),
            ("how many are left?", Order::HowMany),
            ("problem", Order::Problem),
            ("I've got a problem", Order::Problem),
            ("can I pause?", Order::Stop(Stop::Pause)),
            ("that's it for today", Order::Stop(Stop::Pause)),
            ("it's raining", Order::Stop(Stop::Wet)),
            ("wind is getting up", Order::Stop(Stop::Wind)),
            ("there's a storm coming tonight", Order::Stop(Stop::Wind)),
            (
                "I have used 6 sheets and 180 nails",
                Order::Counted(vec![count(Goods::Sheets, 6, false), count(Goods::Nails, 180, false)]),
            ),
            ("I only have 3 sheets left", Order::Counted(vec![count(Goods::Sheets, 3, true)])),
            ("only got two sheets left", Order::Counted(vec![count(Goods::Sheets, 2, true)])),
            ("cut one wrong", Order::Spoilt { sheets: 1, kept: None }),
            ("I cut one too short, at 1100 mm", Order::Spoilt { sheets: 1, kept: Some(mm(1_100)) }),
            ("two sheets got cracked", Order::Spoilt { sheets: 2, kept: None }),
            ("the wall is out of square by 30", Order::OutOfSquare(Some(mm(30)))),
            ("it's out of square", Order::OutOfSquare(None)),
            ("supplier only has 1 800 sheets", Order::SheetsOf(mm(1_800))),
            ("they only do 1.8 m ones", Order::SheetsOf(mm(1_800))),
            ("shop has no 2 m sheets left", Order::NoSheets(Some(mm(2_000)))),
            ("the supplier is sold out of those sheets", Order::NoSheets(None)),
            ("the shop only has 8 sheets", Order::Counted(vec![count(Goods::Sheets, 8, true)])),
            ("the diagonals are 3.87m and 3.82m", Order::Diagonals(mm(3_870), mm(3_820))),
        ] {
            assert_eq!(recognise(text), Some(order), "{text}");
        }
    }

    #[test]
    fn facts_and_injuries_are_not_orders() {
        for text in [
            "it's 12 degrees really",
            "the deck is only 9 mm",
            "wind mostly from the left",
            "I broke one finger",
            "I dropped one on my foot",
            "why 170 mm?",
            "will a split sheet leak if I leave it on?",
            "what if I crack a sheet?",
            "will it leak when it rains?",
            "it is a breeze block wall",
        ] {
            assert_eq!(recognise(text), None, "{text}");
        }
    }

    #[test]
    fn a_change_is_settled_by_a_plain_word() {
        for text in ["accept", "yes", "ok", "go ahead"] {
            assert_eq!(settles(text), Some(Order::Accept), "{text}");
        }
        for text in ["leave it", "no", "undo", "leave it as it was"] {
            assert_eq!(settles(text), Some(Order::Leave), "{text}");
        }
        assert_eq!(settles("done"), None);
    }
}
