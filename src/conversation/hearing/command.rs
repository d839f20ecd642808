//! Words that steer the chat instead of answering: help, back, why, change, start again.
//!
//! Understood at any time, whatever question is open. They are matched on the whole message, so that a
//! sentence which merely holds one of these words is not taken for an order.

use std::sync::LazyLock;

use regex::Regex;

/// A part of the plan that can be asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Everything in short.
    Headline,
    /// What to buy.
    Materials,
    /// Where the purlins and laps go.
    SettingOut,
    /// The nailing pattern.
    Fixings,
    /// Which piece comes from which sheet.
    CutList,
    /// The order of work.
    Work,
    /// What to mind.
    Cautions,
    /// The plan on paper.
    Papers,
}

impl Part {
    /// Every part, in reading order.
    pub const ALL: &'static [Self] = &[
        Self::Headline,
        Self::Materials,
        Self::SettingOut,
        Self::Fixings,
        Self::CutList,
        Self::Work,
        Self::Cautions,
        Self::Papers,
    ];

    /// The name it has in ids.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Headline => "headline",
            Self::Materials => "materials",
            Self::SettingOut => "setting-out",
            Self::Fixings => "fixings",
            Self::CutList => "cut-list",
            Self::Work => "work",
            Self::Cautions => "cautions",
            Self::Papers => "papers",
        }
    }
}

/// An order to the bot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Command {
    /// The platform's start: greets, or welcomes back.
    Start,
    /// What can be said at any time.
    Help,
    /// Takes the last answer back.
    Back,
    /// Why is that asked, or why is that so; with what was named, if anything.
    Why(String),
    /// How is that measured.
    How,
    /// The person does not know.
    NotSure,
    /// Change an answer; with what was named, if anything.
    Change(String),
    /// Drop everything.
    Restart,
    /// Choose units; with what was named, if anything.
    Units(String),
    /// Show the plan, or a part of it.
    Show(Part),
    /// Show the facts.
    Review,
    /// Nothing is wanted after all.
    LeaveIt,
    /// Put me through to a person.
    Person,
    /// What is kept, why, and for how long.
    Privacy,
    /// Everything that is kept, as a file.
    Export,
    /// Delete everything that is kept.
    Delete,
    /// Make a link for a supplier; with how long it is to live, if that was said.
    Share(String),
    /// Close every link.
    Revoke,
    /// More of what was said.
    More,
}

type Build = fn(String) -> Command;

/// Pattern and meaning, first match wins. The first group, where there is one, is what was named.
static PATTERNS: LazyLock<Vec<(Regex, Build)>> = LazyLock::new(|| {
    let table: &[(&str, Build)] = &[
        (
            r"/?start|(?:hi|hello|hey|hiya|hallo|howdy|yo|ey up|good (?:morning|afternoon|evening))(?: (?:there|bot|mate|again|all|lapwise))*|(?:i'?m|me|we'?re) (?:back|again)(?: (?:again|now))*|back again",
            |_| Command::Start,
        ),
        (r"/?help|\?|what can (?:you|i) (?:do|say)|commands|menu", |_| Command::Help),
        (r"/?(?:back|undo|go back|oops|previous|take (?:that|it) back|undo that)", |_| Command::Back),
        (r"(?:/?why|what for|how come)\b[ ,]*(.*?)", Command::Why),
        (
            r"how|what (?:do|should|must) i (?:look|check) for|how (?:can|would|will) i (?:tell|know)|i(?:'m| am)? ?(?:do(?:n't|nt| not) (?:understand|get it|follow|get the question|know what you mean)|confused|lost|not with you)(?: (?:that|this|it|the question|what you mean))?|how do (?:i|you) (?:measure|find|check|do|know|tell|work)\b.*|how to measure.*|where do i measure.*|show me how",
            |_| Command::How,
        ),
        (
            r"(?:i(?:'m| am| have|'ve(?: got)?)? )?(?:really |just )?(?:do(?:n't|nt| not) (?:really )?know|dunno|not sure|unsure|no idea|no clue|haven'?t a clue|don't have a clue|can'?t (?:tell|say|see|measure (?:it|that))|idk|pass|skip)(?:,? (?:mate|sorry|tbh|really|yet|that|it|this|one|the answer|how (?:thick|long|wide|steep|far|high|big|deep)(?: (?:it|that|they) (?:is|are))?|about (?:that|the \w+)|what (?:it|that) is))*",
            |_| Command::NotSure,
        ),
        (
            r"(?:(?:tell|show|give) me |say |any |a bit |some )?more(?: (?:please|info|details?|on that|about (?:that|it)))*|(?:can|could) you (?:tell me|say) more(?: about (?:that|it))?",
            |_| Command::More,
        ),
        (r"/?cancel|stop|leave it(?: as it (?:is|was)| be| alone)?|never ?mind", |_| Command::LeaveIt),
        (
            r"(?:/?restart|start (?:again|over|afresh|from scratch)|begin again|new roof|another roof|/?new|reset|scrap (?:it|that|everything)|start a new (?:one|roof|plan))",
            |_| Command::Restart,
        ),
        (
            r"(?:change|switch|turn) (?:it |that |this |everything |them )?(?:in)?to (metric|imperial|feet and inches|feet|foot|inches|millimet(?:re|er)s|met(?:re|er)s|mm)",
            Command::Units,
        ),
        (
            r"(?:i (?:want|need|have) to |can (?:i|we|you) |let me |please |i'?d like to )*(?:change|edit|correct|fix|alter)\b(?: (?:the|my|a|an|one|something|line|answer))*[ :]*(.*?)",
            Command::Change,
        ),
        (r"(?:/?units?|/?settings)\b[ :]*(.*?)", Command::Units),
        (
            r"(?:use |switch to |in |i (?:use|think in|prefer) )?(metric|imperial|feet and inches|feet|foot|inches|millimet(?:re|er)s|met(?:re|er)s)(?: please)?",
            Command::Units,
        ),
        (r"(?:/?plan|(?:show|see|make|give)(?: me)?(?: the| my| a)? plan|what'?s the plan)", |_| {
            Command::Show(Part::Headline)
        }),
        (
            r"(?:(?:show|see|give)(?: me)? )?(?:the |my )?(?:materials?|shopping list|list|what (?:do i|to) buy|what do i need(?: to buy)?|how many sheets(?: do i need)?)",
            |_| Command::Show(Part::Materials),
        ),
        (
            r"(?:(?:show|see|give)(?: me)? )?(?:the |my )?(?:setting[ -]?out|purlin positions?|where do(?: the)? purlins go)",
            |_| Command::Show(Part::SettingOut),
        ),
        (
            r"(?:(?:show|see|give)(?: me)? )?(?:the |my )?(?:fixings?(?: pattern)?|nail(?:ing)? pattern|nailing|where do(?: the)? nails go)",
            |_| Command::Show(Part::Fixings),
        ),
        (r"(?:(?:show|see|give)(?: me)? )?(?:the |my )?(?:cut(?:ting)?[ -]?list|cuts|cutting)", |_| {
            Command::Show(Part::CutList)
        }),
        (
            r"(?:(?:show|see|give)(?: me)? )?(?:the |my )?(?:order of work|work order|steps|what do i do first|how do i start)",
            |_| Command::Show(Part::Work),
        ),
        (r"(?:(?:show|see|give)(?: me)? )?(?:the |my )?(?:cautions?|safety|dangers?|warnings?)", |_| {
            Command::Show(Part::Cautions)
        }),
        (
            r"(?:/?review|/?summary|/?resume|where was i|where were we|what (?:have|did) i (?:said|say|tell you|told you)|my answers|show (?:me )?(?:my )?answers|go on|carry on|continue)",
            |_| Command::Review,
        ),
        (
            r"(?:(?:show|see|give|send|print|get)(?: me)? )?(?:the |my |a )?(?:papers?|pdf|roof pack|pack|files?|documents?|drawings?|pictures?|print ?out)",
            |_| Command::Show(Part::Papers),
        ),
        (r"/?privacy(?: policy)?|what do you (?:keep|store|know about me)", |_| Command::Privacy),
        (r"/?export|(?:export|download|send me) (?:all )?my data", |_| Command::Export),
        (
            r"/?delete|(?:please )?(?:delete|erase|remove|wipe)(?: all)?(?: of)? (?:my (?:data|answers|chat|details)|everything(?: (?:you (?:have|know|hold|keep|'ve got|have got))? ?(?:on|about) me| you (?:have|hold|keep))?|what you have)",
            |_| Command::Delete,
        ),
        (
            r"(?:/?revoke|/?unshare|(?:revoke|cancel|close|stop|withdraw|end|kill|delete|remove)(?: (?:the|my|that|all|every))* (?:supplier'?s? )?(?:links?|shar(?:e|es|ing)))",
            |_| Command::Revoke,
        ),
        (
            r"(?:/?share|/?supplier|(?:send|share|give|show)(?: (?:it|this|that|them|the|my|a|list|materials|plan|order|sheet))* (?:to|with) (?:a |an |the |my )?(?:supplier|merchant|shop|counter|store|yard)|(?:make|get|give me|new)(?: (?:a|the|me|another|new))* (?:supplier'?s? )?link|supplier (?:sheet|link))(?: for (.*?))?",
            Command::Share,
        ),
        (
            r"(?:/?human|/?person|(?:can i |i want to |i need to |let me )?(?:talk|speak|chat) (?:to|with) (?:a |an |the |some)?(?:person|human|one|somebody|someone|adviser|advisor|real person)|real person|adviser|advisor|human|person)",
            |_| Command::Person,
        ),
    ];
    table
        .iter()
        .filter_map(|(pattern, build)| {
            let whole = format!(
                r"(?i)^(?:ok |okay |hey |hi |please )?(?:{pattern})(?: please| thanks| pls)?[ .!?]*$"
            );
            Some((Regex::new(&whole).ok()?, *build))
        })
        .collect()
});

/// The order a whole message gives, where it gives one.
pub fn recognise(text: &str) -> Option<Command> {
    let text = text.trim().replace('’', "'");
    PATTERNS.iter().find_map(|(pattern, build)| {
        let captures = pattern.captures(&text)?;
        let named = captures.get(1).map_or("", |named| named.as_str()).trim();
        Some(build(named.to_owned()))
    })
}

/// Something that is to be explained. Unlike an order, it may stand in words that speak of danger.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// What a word of the trade means.
    Meaning(String),
    /// All there is to say about something.
    Everything(String),
    /// Why something has to be known.
    Reason(String),
}

type Name = fn(String) -> Wanted;

static WANTED: LazyLock<Vec<(Regex, Name)>> = LazyLock::new(|| {
    let table: [(&str, Name); 3] = [
        (
            r#"(?i)^(?:(?:and|so|sorry|er|um|hi|ok)[ ,]+)*(?:what(?:'?s| is| are| do you mean(?: by)?| does| do)|wot(?:'?s| is))(?: an?| the)? ["“]?([a-z]+(?:[ -][a-z]+)?)["”]?(?: means?)?[ .!?]*$"#,
            Wanted::Meaning,
        ),
        (
            r"(?i)^(?:(?:can|could) you )?(?:(?:tell|show|give) me |say )?more (?:about|on) (.+?)[ .!?]*$",
            Wanted::Everything,
        ),
        (
            r"(?i)\bwhy (?:(?:do|are|would|did|should) (?:you|i) (?:need|ask|asking|want|care|have|tell)\w*|does) (.+?)[ .!?]*$",
            Wanted::Reason,
        ),
    ];
    table.iter().filter_map(|(pattern, build)| Some((Regex::new(pattern).ok()?, *build))).collect()
});

/// What a message asks to have explained, where it does.
pub fn wanted(text: &str) -> Option<Wanted> {
    let text = text.trim().replace('’', "'");
    WANTED.iter().find_map(|(pattern, build)| {
        let named = pattern.captures(&text)?.get(1)?.as_str().trim().to_lowercase();
        Some(build(named))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_pattern_compiles() {
        // A pattern that fails to compile is left out by `filter_map`, which no user would ever notice.
        assert_eq!(PATTERNS.len(), 28);
    }

    #[test]
    fn orders_are_understood() {
        for (text, command) in [
            ("Help!", Command::Help),
            ("go back", Command::Back),
            ("why?", Command::Why(String::new())),
            ("why 170 mm?", Command::Why("170 mm".into())),
            ("how do I measure that?", Command::How),
            ("dunno mate", Command::NotSure),
            ("I'm not sure", Command::NotSure),
            ("change the slope", Command::Change("slope".into())),
            ("start again", Command::Restart),
            ("units", Command::Units(String::new())),
            ("units: feet", Command::Units("feet".into())),
            ("show the plan", Command::Show(Part::Headline)),
            ("cut list please", Command::Show(Part::CutList)),
            ("can I talk to a person", Command::Person),
            ("send to supplier", Command::Share(String::new())),
            ("send it to my supplier for 7 days", Command::Share("7 days".into())),
            ("revoke the link", Command::Revoke),
            ("tell me more", Command::More),
            ("dunno how thick", Command::NotSure),
            ("I have no idea, sorry", Command::NotSure),
            ("I really don't know about the wind", Command::NotSure),
            ("change it to metric", Command::Units("metric".into())),
            ("I don't understand the question", Command::How),
            ("what should I look for", Command::How),
            ("I'm back", Command::Start),
        ] {
            assert_eq!(recognise(text), Some(command), "{text}");
        }
    }

    #[test]
    fn what_is_to_be_explained_is_named() {
        assert_eq!(WANTED.len(), 3);
        for (text, named) in [
            ("What's a verge?", Some(Wanted::Meaning("verge".into()))),
            ("what do you mean slope", Some(Wanted::Meaning("slope".into()))),
            ("what does barge board mean", Some(Wanted::Meaning("barge board".into()))),
            ("tell me more about the laps", Some(Wanted::Everything("the laps".into()))),
            ("first, why do you need to know the wind?", Some(Wanted::Reason("to know the wind".into()))),
            ("what is on the roof is felt", None),
        ] {
            assert_eq!(wanted(text), named, "{text}");
        }
    }

    #[test]
    fn answers_are_not_orders() {
        for text in ["2.4m", "no", "felt", "the back is longer", "back", "none"] {
            let heard = recognise(text);
            assert!(heard.is_none() || text == "back", "{text}: {heard:?}");
        }
    }
}
