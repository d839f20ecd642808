//! Reads `hearing/<language>/*.toml`: what words mean in one language. Every way of saying something is read here; a
//! bad one is a fault of the book, with file and line.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;
use toml::Spanned;

use super::super::document::{Document, Entry};
use super::super::fault::{Faults, Place};
use super::super::files::BookFile;
use super::super::writing::fact_named;
use crate::conversation::ears::lexicon::{
    ANSWERED_PLAINLY, Asked, Aspect, Entries, Means, OrderEntry, Side, Tag, Way,
};
use crate::conversation::ears::{Ears, Orders};
use crate::roofing::roof::{FactKey, FactKind};
use crate::roofing::work::{Goods, StepKind};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SayEntry {
    means: Spanned<String>,
    ways: Vec<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FactEntry {
    fact: Spanned<String>,
    #[serde(default)]
    names: Vec<Spanned<String>>,
    #[serde(default)]
    before: Vec<Spanned<String>>,
    #[serde(default)]
    behind: Vec<Spanned<String>>,
    #[serde(default)]
    sizes: Vec<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ChoiceEntry {
    fact: Spanned<String>,
    id: Spanned<String>,
    #[serde(default)]
    asked: Vec<Spanned<String>>,
    #[serde(default)]
    tells: Vec<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SafeEntry {
    fact: Spanned<String>,
    id: Spanned<String>,
    says: Vec<Spanned<String>>,
    #[serde(default)]
    within: Vec<Spanned<String>>,
    #[serde(default)]
    along: Vec<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ListEntry {
    name: Spanned<String>,
    of: Spanned<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AskedEntry {
    fact: Spanned<String>,
    yes: Option<Spanned<String>>,
    no: Option<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ComparesEntry {
    fact: Spanned<String>,
    #[serde(default)]
    more: Vec<Spanned<String>>,
    #[serde(default)]
    less: Vec<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct OrderText {
    id: Spanned<String>,
    #[serde(default)]
    names: bool,
    ways: Vec<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GoodsEntry {
    goods: Spanned<String>,
    ways: Vec<Spanned<String>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AllDoneEntry {
    kind: Spanned<String>,
    ways: Vec<Spanned<String>>,
}

/// The files of each language's ears.
pub(in super::super) fn languages(files: &[BookFile]) -> BTreeMap<String, Vec<BookFile>> {
    let mut found: BTreeMap<String, Vec<BookFile>> = BTreeMap::new();
    for file in files {
        let language = file.name.strip_prefix("hearing/").and_then(|rest| rest.split_once('/'));
        if let Some((language, _)) = language.filter(|(_, name)| !ELSEWHERE.contains(name)) {
            found.entry(language.to_owned()).or_default().push(file.clone());
        }
    }
    found
}

/// Files of that folder with another form, read elsewhere.
const ELSEWHERE: &[&str] = &["asking.toml"];

/// The ears of one language.
pub(in super::super) fn ears(files: &[BookFile]) -> Ears {
    let mut faults = Faults::of("hearing");
    Ears::new(read(files, &mut faults).entries)
}

/// Names every fault of one language, and what it lacks where it must be `whole`.
pub(in super::super) fn check(files: &[BookFile], whole: bool, faults: &mut Faults) {
    let reader = read(files, faults);
    let folder =
        files.first().and_then(|file| file.name.rsplit_once('/')).map_or("hearing", |(folder, _)| folder);
    for lacking in reader.lacking().into_iter().filter(|_| whole) {
        faults.missing_from(folder, lacking);
    }
}

/// What a language lacks to be offered.
pub(in super::super) fn lacking(files: &[BookFile]) -> Vec<String> {
    read(files, &mut Faults::of("hearing")).lacking()
}

fn read(files: &[BookFile], faults: &mut Faults) -> Reader {
    let mut reader = Reader::default();
    for file in files {
        reader.file(file, faults);
    }
    reader
}

#[derive(Default)]
struct Reader {
    entries: Entries,
    found: BTreeSet<Tag>,
    orders: BTreeSet<String>,
    /// The words that a name in a way stands for, in the file that is read.
    lists: BTreeMap<String, String>,
}

impl Reader {
    fn file(&mut self, file: &BookFile, faults: &mut Faults) {
        let mut document = Document::open(file, faults);
        self.lists.clear();
        for entry in document.entries::<ListEntry>("list", "list of words", faults) {
            let of = self.written_out(entry.value.of.get_ref());
            let name = entry.value.name.get_ref().clone();
            if self.lists.insert(name.clone(), of).is_some() {
                faults.at(entry.at(&entry.value.name), format!("`{name}` is a list twice."));
            }
        }
        for entry in document.entries::<SayEntry>("say", "part of the lexicon", faults) {
            self.said(&entry, faults);
        }
        for entry in document.entries::<FactEntry>("fact", "fact", faults) {
            self.fact(&entry, faults);
        }
        for entry in document.entries::<ChoiceEntry>("choice", "choice", faults) {
            self.choice(&entry, faults);
        }
        for entry in document.entries::<SafeEntry>("safe", "safe answer", faults) {
            self.safe(&entry, faults);
        }
        for entry in document.entries::<AskedEntry>("asked", "asked fact", faults) {
            self.asked(&entry, faults);
        }
        for entry in document.entries::<ComparesEntry>("compares", "comparison", faults) {
            if let Some(fact) = fact_named(entry.value.fact.get_ref(), entry.at(&entry.value.fact), faults) {
                self.ways(&entry, &entry.value.more, &Means::Compares(fact, true), faults);
                self.ways(&entry, &entry.value.less, &Means::Compares(fact, false), faults);
            }
        }
        for entry in document.entries::<OrderText>("order", "order", faults) {
            self.order(&entry, faults);
        }
        for entry in document.entries::<GoodsEntry>("goods", "kind of goods", faults) {
            let named = entry.value.goods.get_ref();
            match Goods::ALL.iter().find(|goods| goods.key().replace('-', "_") == *named) {
                Some(goods) => self.ways(&entry, &entry.value.ways, &Means::Goods(*goods), faults),
                None => faults.at(entry.at(&entry.value.goods), format!("`{named}` is no kind of goods.")),
            }
        }
        for entry in document.entries::<AllDoneEntry>("all_done", "kind of step", faults) {
            let named = entry.value.kind.get_ref();
            match StepKind::ALL.iter().find(|kind| kind.key().replace('-', "_") == *named) {
                Some(kind) => self.ways(&entry, &entry.value.ways, &Means::AllDone(*kind), faults),
                None => faults.at(entry.at(&entry.value.kind), format!("`{named}` is no kind of step.")),
            }
        }
        if let Some(words) = document.entry::<String>("plain_words", "list of words", faults) {
            self.entries.plain_words.extend(words.value.split_whitespace().map(str::to_lowercase));
        }
        if let Some(spelt) = document.entry::<BTreeMap<String, String>>("spelt", "list of spellings", faults)
        {
            self.entries.spelt.extend(spelt.value);
        }
        document.close("`[[say]]`, `[[fact]]`, `[[choice]]`, `[[safe]]`, `[[list]]`, `[[asked]]`, `[[compares]]`, `[[order]]`, `[[goods]]`, `[[all_done]]`, `[spelt]` and `plain_words`", faults);
    }

    fn ways<T>(
        &mut self,
        entry: &Entry<'_, T>,
        ways: &[Spanned<String>],
        means: &Means,
        faults: &mut Faults,
    ) {
        for way in ways {
            if let Some(way) = self.way(way, entry.at(way), faults) {
                self.entries.said.push((means.clone(), way));
            }
        }
    }

    fn said(&mut self, entry: &Entry<'_, SayEntry>, faults: &mut Faults) {
        let named = entry.value.means.get_ref();
        let Some(tag) = Tag::from_key(named) else {
            let all: Vec<&str> = Tag::ALL.iter().map(|tag| tag.key()).collect();
            let what = format!("`{named}` means nothing to the ears. They know {}.", all.join(", "));
            return faults.at(entry.at(&entry.value.means), what);
        };
        self.found.insert(tag);
        self.ways(entry, &entry.value.ways, &Means::Tag(tag), faults);
    }

    fn fact(&mut self, entry: &Entry<'_, FactEntry>, faults: &mut Faults) {
        let Some(fact) = fact_named(entry.value.fact.get_ref(), entry.at(&entry.value.fact), faults) else {
            return;
        };
        let sides = [
            (Side::Either, &entry.value.names),
            (Side::Before, &entry.value.before),
            (Side::Behind, &entry.value.behind),
            (Side::Size, &entry.value.sizes),
        ];
        for (side, ways) in sides {
            self.ways(entry, ways, &Means::Names(fact, side), faults);
        }
    }

    fn choice(&mut self, entry: &Entry<'_, ChoiceEntry>, faults: &mut Faults) {
        let ChoiceEntry { fact, id, asked, tells } = &entry.value;
        self.aspects(entry, (fact, id), &[(Aspect::Asked, asked), (Aspect::Tells, tells)], faults);
    }

    fn safe(&mut self, entry: &Entry<'_, SafeEntry>, faults: &mut Faults) {
        let SafeEntry { fact, id, says, within, along } = &entry.value;
        let aspects = [(Aspect::Safe, says), (Aspect::Within, within), (Aspect::Along, along)];
        self.aspects(entry, (fact, id), &aspects, faults);
    }

    /// The ways in which a choice is told.
    fn aspects<T>(
        &mut self,
        entry: &Entry<'_, T>,
        (fact, id): (&Spanned<String>, &Spanned<String>),
        aspects: &[(Aspect, &Vec<Spanned<String>>)],
        faults: &mut Faults,
    ) {
        let Some(fact) = fact_named(fact.get_ref(), entry.at(fact), faults) else { return };
        if is_choice(fact, id, entry.at(id), faults) {
            for (aspect, ways) in aspects {
                self.ways(entry, ways, &Means::Choice(fact, id.get_ref().clone(), *aspect), faults);
            }
        }
    }

    /// A way with the lists that it names written out.
    fn written_out(&self, way: &str) -> String {
        self.lists
            .iter()
            .fold(way.to_owned(), |way, (name, of)| way.replace(&format!("<{name}>"), &format!("({of})")))
    }

    fn way(&self, written: &Spanned<String>, place: Place<'_>, faults: &mut Faults) -> Option<Way> {
        match Way::read(&self.written_out(written.get_ref())) {
            Ok(way) => Some(way.written_as(written.get_ref())),
            Err(why) => {
                let what = format!("`{}` is no way of saying something: {why}.", written.get_ref());
                faults.at(place, what);
                None
            }
        }
    }

    fn asked(&mut self, entry: &Entry<'_, AskedEntry>, faults: &mut Faults) {
        let Some(fact) = fact_named(entry.value.fact.get_ref(), entry.at(&entry.value.fact), faults) else {
            return;
        };
        let ids = [&entry.value.yes, &entry.value.no];
        let known = ids.iter().filter_map(|id| id.as_ref());
        if known.clone().all(|id| is_choice(fact, id, entry.at(id), faults)) {
            let id = |id: &Option<Spanned<String>>| id.as_ref().map(|id| id.get_ref().clone());
            self.entries.asked.push(Asked { fact, yes: id(&entry.value.yes), no: id(&entry.value.no) });
        }
    }

    fn order(&mut self, entry: &Entry<'_, OrderText>, faults: &mut Faults) {
        let written = &entry.value;
        let id = written.id.get_ref();
        if !Orders::is_known(id) {
            let what = format!("`{id}` is no order. There are {}.", Orders::all().join(", "));
            return faults.at(entry.at(&written.id), what);
        }
        self.orders.insert(id.clone());
        for way in &written.ways {
            if let Some(way) = self.way(way, entry.at(way), faults) {
                let order = OrderEntry { id: id.clone(), names: written.names };
                self.entries.orders.push((order, way));
            }
        }
    }

    /// What no language can do without.
    fn lacking(&self) -> Vec<String> {
        let tags = Tag::ALL.iter().filter(|tag| !self.found.contains(tag));
        let tags = tags.map(|tag| format!("nobody says how this language says `{}`: add it.", tag.key()));
        let orders = Orders::all().into_iter().filter(|id| !self.orders.contains(*id));
        let orders = orders.map(|id| format!("the order `{id}` cannot be given: add a way to say it."));
        let safe = |fact: FactKey| {
            self.entries
                .said
                .iter()
                .any(|(means, _)| matches!(means, Means::Choice(of, _, Aspect::Safe) if *of == fact))
        };
        let unsafe_only = ANSWERED_PLAINLY.iter().filter(|fact| !safe(**fact)).map(|fact| {
            format!("nothing says what a plain safe answer to `{}` is made of: add a `[[safe]]`.", fact.key())
        });
        tags.chain(orders).chain(unsafe_only).collect()
    }
}

fn is_choice(fact: FactKey, id: &Spanned<String>, place: Place<'_>, faults: &mut Faults) -> bool {
    let FactKind::Choice(ids) = fact.kind() else {
        faults.at(place, format!("`{}` is no choice of a few.", fact.key()));
        return false;
    };
    let known = ids.contains(&id.get_ref().as_str());
    if !known {
        let what =
            format!("`{}` is no answer to `{}`: it may be {}.", id.get_ref(), fact.key(), ids.join(", "));
        faults.at(place, what);
    }
    known
}
