//! How a line of the list is told to whoever picks it and has not seen the roof: what it is, its sizes, the wave it
//! must fit, what it is cut to.

use std::collections::BTreeMap;

use super::{MaterialLine, Unit};
use crate::roofing::catalogue::{
    AreaPiece, AreaUse, Catalogue, Coating, EdgePiece, Fastener, Item, Shank, Sheet, Sundry, SundryUse,
    Timber,
};
use crate::roofing::laid::SlopePlan;
use crate::roofing::note::{Arg, Note};
use crate::roofing::roof::Site;
use crate::units::Length;

/// What tells the lines of one list.
#[derive(Clone, Copy, Debug)]
pub struct Picking<'a> {
    /// The roof.
    pub site: &'a Site,
    /// Its slopes, laid out.
    pub slopes: &'a [SlopePlan],
    /// What the list is taken from.
    pub goods: &'a Catalogue,
}

/// What a line is of.
#[derive(Clone, Copy, Debug)]
enum Entry<'a> {
    Sheet(&'a Sheet),
    Edge(&'a EdgePiece),
    Fastener(&'a Fastener),
    Timber(&'a Timber),
    Area(&'a AreaPiece),
    Sundry(&'a Sundry),
    Finial(&'a Item),
}

impl<'a> Picking<'a> {
    /// The name of a line for the person whose roof it is. A sheet known by its label alone is named by its sizes.
    pub fn name(&self, line: &MaterialLine) -> Arg {
        self.named(line, "own-sheet-of-size")
    }

    /// The name of a line for those who sell it.
    pub fn name_to_order(&self, line: &MaterialLine) -> Arg {
        self.named(line, "own-sheet-to-order")
    }

    fn named(&self, line: &MaterialLine, own: &str) -> Arg {
        match self.entry(line) {
            Some(Entry::Sheet(sheet)) if line.name.is_empty() => {
                let note = sizes(Note::new(own), sheet);
                Arg::Note(Box::new(note.text("covering", &*self.site.covering.name)))
            }
            _ => Arg::Text(line.name.clone()),
        }
    }

    /// Whether its mass was worked out from its size and never weighed.
    pub fn is_mass_by_size(&self, line: &MaterialLine) -> bool {
        line.name.is_empty() && line.item == self.site.sheet.item.id
    }

    /// What must be known of a line beside its name, in the order of asking.
    pub fn details(&self, line: &MaterialLine) -> Vec<Note> {
        let Some(entry) = self.entry(line) else { return Vec::new() };
        let sheet = &self.site.sheet;
        let mut details = match entry {
            Entry::Sheet(_) if line.name.is_empty() => Vec::new(),
            Entry::Sheet(sheet) => vec![sizes(Note::new("detail-sheet"), sheet)],
            Entry::Edge(piece) => vec![
                Note::new("detail-piece")
                    .size("length", piece.length)
                    .size("lap", piece.lap)
                    .with("laps", Arg::Count(i64::from(piece.lap > Length::ZERO))),
                wave(Note::new("detail-fits-wave"), sheet),
            ],
            Entry::Fastener(fastener) => fastener_details(fastener),
            Entry::Timber(timber) => timber_details(timber),
            Entry::Area(piece) => vec![
                Note::new("detail-area")
                    .size("length", piece.length)
                    .size("width", piece.width)
                    .size("thickness", piece.thickness),
            ],
            Entry::Sundry(_) | Entry::Finial(_) => Vec::new(),
        };
        let spec = Some(entry.item().spec.as_str()).filter(|spec| !spec.is_empty());
        details.extend(spec.map(|spec| Note::new("detail-spec").text("spec", spec)));
        let cuts = self.cuts(line);
        if !cuts.is_empty() {
            let cuts = cuts.into_iter().map(|(length, count)| {
                Note::new("detail-cut").with("count", Arg::Count(count)).size("length", length)
            });
            details.push(Note::new("detail-cuts").with("cuts", Arg::Notes(cuts.collect())));
        }
        if self.is_mass_by_size(line) {
            details.push(Note::new("detail-mass-by-size"));
        }
        details
    }

    /// What may be sold instead.
    pub fn or_equal(&self, line: &MaterialLine) -> Note {
        Note::new(if self.wave(line).is_some() { "detail-or-equal-wave" } else { "detail-or-equal" })
    }

    /// The sheet that a line is of, if it is of one.
    pub fn sheet(&self, line: &MaterialLine) -> Option<&'a Sheet> {
        match self.entry(line)? {
            Entry::Sheet(sheet) => Some(sheet),
            Entry::Edge(_)
            | Entry::Fastener(_)
            | Entry::Timber(_)
            | Entry::Area(_)
            | Entry::Sundry(_)
            | Entry::Finial(_) => None,
        }
    }

    /// The wave of the sheet, or the one that the piece must fit: from crown to crown, from trough to crown.
    pub fn wave(&self, line: &MaterialLine) -> Option<(Length, Length)> {
        match self.entry(line)? {
            Entry::Sheet(sheet) => Some((sheet.corrugation_pitch, sheet.corrugation_height)),
            Entry::Edge(_) => Some((self.site.sheet.corrugation_pitch, self.site.sheet.corrugation_height)),
            Entry::Fastener(_) | Entry::Timber(_) | Entry::Area(_) | Entry::Sundry(_) | Entry::Finial(_) => {
                None
            }
        }
    }

    /// What lengths of timber are cut to, the longest first, and how many of each. Empty where nothing is cut.
    pub fn cuts(&self, line: &MaterialLine) -> Vec<(Length, i64)> {
        let (Unit::PieceOf(stock), Some(Entry::Timber(timber))) = (line.unit, self.entry(line)) else {
            return Vec::new();
        };
        let slopes = self.slopes.iter().filter(|slope| slope.purlin_timber.as_ref() == Some(&timber.item.id));
        let mut cuts: BTreeMap<Length, i64> = BTreeMap::new();
        for piece in slopes.flat_map(|slope| &slope.purlin_pieces).filter(|piece| piece.stock == stock) {
            *cuts.entry(piece.to - piece.from).or_default() += 1;
        }
        cuts.into_iter().rev().collect()
    }

    /// How long one is to carry. A roll is as long as it is wide.
    pub fn carried(&self, line: &MaterialLine) -> Length {
        if let Unit::PieceOf(length) = line.unit {
            return length;
        }
        match self.entry(line) {
            Some(Entry::Sheet(sheet)) => sheet.length,
            Some(Entry::Edge(piece)) => piece.length,
            Some(Entry::Fastener(fastener)) => fastener.length,
            Some(Entry::Area(piece)) => match piece.usage {
                AreaUse::Underlay => piece.width,
                AreaUse::Insulation | AreaUse::Deck => piece.length,
            },
            Some(Entry::Sundry(sundry)) => match sundry.usage {
                SundryUse::UnderlayTape | SundryUse::FlashingSealant => Length::ZERO,
                SundryUse::UnderlayStaple
                | SundryUse::DeckBoardScrew
                | SundryUse::BargeBoard
                | SundryUse::Fascia
                | SundryUse::EdgeBoardScrew
                | SundryUse::FlashingFixing
                | SundryUse::FinialNail => sundry.length,
            },
            Some(Entry::Timber(_) | Entry::Finial(_)) | None => Length::ZERO,
        }
    }

    fn entry(&self, line: &MaterialLine) -> Option<Entry<'a>> {
        let Self { site, goods, .. } = self;
        let mine = |item: &Item| item.id == line.item;
        let sheets = [&site.sheet].into_iter().chain(&goods.sheets).find(|sheet| mine(&sheet.item));
        let edge = || goods.edges.iter().find(|piece| mine(&piece.item)).map(Entry::Edge);
        let fastener = || goods.fasteners.iter().find(|fastener| mine(&fastener.item)).map(Entry::Fastener);
        let timber = || goods.timbers.iter().find(|timber| mine(&timber.item)).map(Entry::Timber);
        let area = || goods.areas.iter().find(|piece| mine(&piece.item)).map(Entry::Area);
        let sundry = || goods.sundries.iter().find(|sundry| mine(&sundry.item)).map(Entry::Sundry);
        let finial = || mine(&goods.finial).then_some(Entry::Finial(&goods.finial));
        let small = || area().or_else(sundry).or_else(finial);
        sheets.map(Entry::Sheet).or_else(edge).or_else(fastener).or_else(timber).or_else(small)
    }
}

impl<'a> Entry<'a> {
    const fn item(self) -> &'a Item {
        match self {
            Self::Sheet(sheet) => &sheet.item,
            Self::Edge(piece) => &piece.item,
            Self::Fastener(fastener) => &fastener.item,
            Self::Timber(timber) => &timber.item,
            Self::Area(piece) => &piece.item,
            Self::Sundry(sundry) => &sundry.item,
            Self::Finial(item) => item,
        }
    }
}

fn fastener_details(fastener: &Fastener) -> Vec<Note> {
    let sizes = Note::new("detail-fastener").size("length", fastener.length).size("shank", fastener.diameter);
    // A plan that was kept before heads were known knows nothing of shanks and coatings either.
    let kind = (fastener.head > Length::ZERO).then(|| {
        Note::new("detail-fastener-kind")
            .word("shank", shank_word(fastener.shank))
            .size("head", fastener.head)
            .word("coating", coating_word(fastener.coating))
    });
    [sizes].into_iter().chain(kind).collect()
}

fn timber_details(timber: &Timber) -> Vec<Note> {
    let sizes = Note::new("detail-timber").size("width", timber.width).size("depth", timber.depth);
    let class = timber.class.as_deref();
    let class = class.map(|class| Note::new("detail-timber-class").text("class", class));
    [sizes].into_iter().chain(class).collect()
}

const fn shank_word(shank: Shank) -> &'static str {
    match shank {
        Shank::Smooth => "shank-smooth",
        Shank::Ringed => "shank-ringed",
        Shank::Twisted => "shank-twisted",
        Shank::Threaded => "shank-threaded",
    }
}

const fn coating_word(coating: Coating) -> &'static str {
    match coating {
        Coating::Bare => "coating-bare",
        Coating::ZincPlated => "coating-zinc-plated",
        Coating::HotDipGalvanised => "coating-hot-dip-galvanised",
        Coating::Stainless => "coating-stainless",
    }
}

fn sizes(note: Note, sheet: &Sheet) -> Note {
    wave(note.size("length", sheet.length).size("width", sheet.width), sheet)
        .with("corrugations", Arg::Count(sheet.corrugations))
}

fn wave(note: Note, sheet: &Sheet) -> Note {
    note.size("pitch", sheet.corrugation_pitch).size("height", sheet.corrugation_height)
}
