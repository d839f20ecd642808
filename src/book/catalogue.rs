//! Reads `catalogue/*.toml`. Any file may hold any kind of entry; exactly one holds `[range]`.

mod entry;

use toml::Spanned;

use super::document::{Document, Entry};
use super::fault::{Faults, Place};
use super::files::BookFile;
use super::writing::{angle, date, length, mass, meant, price};
use crate::roofing::catalogue::{
    AreaPiece, AreaUse, Board, Catalogue, Coating, Covering, EdgePiece, EdgeUse, Fastener, FastenerUse,
    FixingMethod, Item, Shank, Sheet, StockMethod, Sundry, SundryUse, Timber, Withdrawal,
};
use crate::units::{Currency, Length};
use entry::{
    AreaEntry, CoveringEntry, EdgeEntry, FastenerEntry, FinialEntry, Label, RangeEntry, SheetEntry,
    SundryEntry, TimberEntry,
};

/// The catalogue with the places its entries stand at, for the checks across entries.
pub(super) struct CatalogueRead<'f> {
    pub(super) catalogue: Catalogue,
    /// The places of the sheets, in the same order.
    pub(super) sheets: Vec<Place<'f>>,
    /// The place of the range itself.
    pub(super) range: Place<'f>,
}

/// Reads the whole catalogue; `None` where there is no range to put it in.
pub(super) fn read<'f>(files: &'f [BookFile], faults: &mut Faults) -> Option<CatalogueRead<'f>> {
    let mut documents: Vec<Document<'f>> = files
        .iter()
        .filter(|file| file.is_in("catalogue", ".toml"))
        .map(|file| Document::open(file, faults))
        .collect();
    let range = only(&mut documents, "range", faults);
    let finial = only::<FinialEntry>(&mut documents, "finial", faults);
    let (range, finial) = (range?, finial?);
    let mut reader =
        Reader { currency: currency(&range, faults), ids: Vec::new(), coverings: Vec::new(), faults };
    let finial_item = reader.item(&finial, finial.value.label(), Some(&finial.value.mass_g));
    let mut read =
        CatalogueRead { catalogue: empty(&range.value, finial_item), sheets: Vec::new(), range: range.place };
    for document in &mut documents {
        for entry in document.entries("covering", "covering", reader.faults) {
            let covering = reader.covering(&entry);
            read.catalogue.coverings.extend(covering);
        }
    }
    if read.catalogue.coverings.is_empty() {
        let what = "the catalogue has no covering: add a [[covering]], in any file of catalogue/.";
        reader.faults.missing_from("catalogue", what);
    }
    reader.coverings = read.catalogue.coverings.iter().map(|covering| covering.id.clone()).collect();
    for mut document in documents {
        for entry in document.entries("sheet", "sheet", reader.faults) {
            let sheet = reader.sheet(&entry);
            read.catalogue.sheets.push(sheet);
            read.sheets.push(entry.place);
        }
        for entry in document.entries("fastener", "fastener", reader.faults) {
            read.catalogue.fasteners.extend(reader.fastener(&entry));
        }
        for entry in document.entries("edge_piece", "edge piece", reader.faults) {
            read.catalogue.edges.extend(reader.edge(&entry));
        }
        for entry in document.entries("timber", "timber", reader.faults) {
            let timber = reader.timber(&entry);
            read.catalogue.timbers.push(timber);
        }
        for entry in document.entries("area_piece", "area piece", reader.faults) {
            read.catalogue.areas.extend(reader.area(&entry));
        }
        for entry in document.entries("sundry", "sundry", reader.faults) {
            read.catalogue.sundries.extend(reader.sundry(&entry));
        }
        let may_hold = "`[range]`, `[finial]`, `[[covering]]`, `[[sheet]]`, `[[fastener]]`, `[[edge_piece]]`, `[[timber]]`, \
                        `[[area_piece]]` and `[[sundry]]`";
        document.close(may_hold, reader.faults);
    }
    Some(read)
}

fn empty(range: &RangeEntry, finial: Item) -> Catalogue {
    Catalogue {
        version: range.version.clone(),
        demo: range.demo,
        prices_from: range.prices_from.get_ref().clone(),
        coverings: Vec::new(),
        sheets: Vec::new(),
        fasteners: Vec::new(),
        edges: Vec::new(),
        timbers: Vec::new(),
        areas: Vec::new(),
        finial,
        sundries: Vec::new(),
        tools: range.tools.clone(),
        protective: range.protective.clone(),
    }
}

/// The one `[key]` of all the files.
fn only<'f, T: serde::de::DeserializeOwned>(
    documents: &mut [Document<'f>],
    key: &str,
    faults: &mut Faults,
) -> Option<Entry<'f, T>> {
    let written = documents.iter().any(|document| document.has(key));
    let mut found: Vec<Entry<'f, T>> =
        documents.iter_mut().filter_map(|document| document.entry(key, key, faults)).collect();
    if !written {
        faults.missing_from(
            "catalogue",
            format!("the catalogue has no [{key}]: add one, in any file of catalogue/."),
        );
    }
    for again in found.iter().skip(1) {
        faults.at(again.place, format!("there are two [{key}]: keep one."));
    }
    found.drain(..).next()
}

fn currency(range: &Entry<'_, RangeEntry>, faults: &mut Faults) -> Option<Currency> {
    let written = &range.value.currency;
    date(range.value.prices_from.get_ref(), range.at(&range.value.prices_from), faults);
    let currency = Currency::from_code(written.get_ref());
    if currency.is_none() {
        let what =
            format!("\"{}\" is no currency: write its three capital letters, as \"GBP\".", written.get_ref());
        faults.at(range.at(written), what);
    }
    currency
}

/// The edges a piece may be for, by the names the adviser writes.
const EDGES: [(&str, EdgeUse); 6] = [
    ("ridge", EdgeUse::Ridge),
    ("top_edge", EdgeUse::TopEdge),
    ("verge", EdgeUse::Verge),
    ("wall_top", EdgeUse::WallTop),
    ("wall_side", EdgeUse::WallSide),
    ("eaves_filler", EdgeUse::EavesFiller),
];

/// What keeps rust off a fastener, by the names the adviser writes.
const COATINGS: [(&str, Coating); 4] = [
    ("bare", Coating::Bare),
    ("zinc_plated", Coating::ZincPlated),
    ("hot_dip_galvanised", Coating::HotDipGalvanised),
    ("stainless", Coating::Stainless),
];

struct Reader<'a> {
    currency: Option<Currency>,
    ids: Vec<String>,
    coverings: Vec<String>,
    faults: &'a mut Faults,
}

impl Reader<'_> {
    fn item<T>(&mut self, entry: &Entry<'_, T>, label: Label<'_>, mass_g: Option<&Spanned<i64>>) -> Item {
        let id = label.id.get_ref();
        if self.ids.contains(id) {
            self.faults
                .at(entry.at(label.id), format!("there are two things called `{id}`: give one another id."));
        }
        self.ids.push(id.clone());
        if label.name.get_ref().trim().is_empty() {
            self.faults
                .at(entry.at(label.name), "a thing to buy needs a name that the supplier knows it by.");
        }
        let pack = label.pack.map_or(1, |pack| *pack.get_ref());
        if let Some(written) = label.pack.filter(|_| pack < 1) {
            self.faults.at(entry.at(written), format!("a pack holds at least 1, not {pack}."));
        }
        let price = self.money(entry, label.price);
        let mass =
            mass_g.map(|grams| mass(*grams.get_ref(), entry.at(grams), self.faults)).unwrap_or_default();
        let (name, spec) = (label.name.get_ref().clone(), label.spec.unwrap_or_default().to_owned());
        Item { id: id.clone(), name, spec, pack, mass, price }
    }

    fn money<T>(
        &mut self,
        entry: &Entry<'_, T>,
        written: Option<&Spanned<String>>,
    ) -> Option<crate::units::Money> {
        let written = written?;
        price(written.get_ref(), self.currency?, entry.at(written), self.faults)
    }

    /// A length that must be there: more than nothing.
    fn size<T>(&mut self, entry: &Entry<'_, T>, written: &Spanned<f64>) -> Length {
        let size = self.reach(entry, written);
        if size == Length::ZERO {
            self.faults.at(entry.at(written), "this must be more than 0 mm.");
        }
        size
    }

    /// A length that may be nothing, but not less.
    fn reach<T>(&mut self, entry: &Entry<'_, T>, written: &Spanned<f64>) -> Length {
        let reach = length(*written.get_ref(), entry.at(written), self.faults);
        if reach < Length::ZERO {
            self.faults.at(entry.at(written), format!("{} mm is less than nothing.", written.get_ref()));
        }
        reach
    }

    fn sheet(&mut self, entry: &Entry<'_, SheetEntry>) -> Sheet {
        let value = &entry.value;
        let sheet = Sheet {
            item: self.item(entry, value.label(), Some(&value.mass_g)),
            covering: self.known_covering(entry, &value.covering),
            length: self.size(entry, &value.length_mm),
            width: self.size(entry, &value.width_mm),
            corrugations: *value.corrugations.get_ref(),
            corrugation_pitch: self.size(entry, &value.corrugation_pitch_mm),
            corrugation_height: self.size(entry, &value.corrugation_height_mm),
            thickness: self.size(entry, &value.thickness_mm),
            min_piece: self.size(entry, &value.min_piece_mm),
            max_extra_lap: self.reach(entry, &value.max_extra_lap_mm),
            extra_side_lap: value.extra_side_lap,
            stagger: value.stagger,
        };
        let whole = sheet.corrugation_pitch * sheet.corrugations;
        if whole != sheet.width {
            let what = format!(
                "{} corrugations of {} mm make {} mm, not {} mm: measure edge to edge, and crown to crown.",
                sheet.corrugations,
                sheet.corrugation_pitch.mm(),
                whole.mm(),
                sheet.width.mm(),
            );
            self.faults.at(entry.at(&value.width_mm), what);
        }
        if sheet.min_piece > sheet.length {
            self.faults
                .at(entry.at(&value.min_piece_mm), "the shortest piece is longer than the whole sheet.");
        }
        sheet
    }

    fn fastener(&mut self, entry: &Entry<'_, FastenerEntry>) -> Option<Fastener> {
        let value = &entry.value;
        let uses = [
            ("sheet_nail", FastenerUse::SheetNail),
            ("sheet_screw", FastenerUse::SheetScrew),
            ("deck_screw", FastenerUse::DeckScrew),
            ("purlin_screw", FastenerUse::PurlinScrew),
        ];
        let item = self.item(entry, value.label(), Some(&value.mass_g));
        let length = self.size(entry, &value.length_mm);
        let diameter = self.size(entry, &value.diameter_mm);
        let usage = self.one_of(entry, &value.usage, &uses)?;
        let holds_sheets = matches!(usage, FastenerUse::SheetNail | FastenerUse::SheetScrew);
        if holds_sheets != value.covering.is_some() {
            let what = "what holds sheets names their `covering`, and nothing else does.";
            self.faults.at(entry.at(&value.usage), what);
        }
        let covering = value.covering.as_ref().map(|written| self.known_covering(entry, written));
        let (shank, coating) = (self.shank(entry, usage)?, self.one_of(entry, &value.coating, &COATINGS)?);
        let head = self.size(entry, &value.head_mm);
        if head < diameter {
            self.faults.at(entry.at(&value.head_mm), "a head is no narrower than its shank.");
        }
        let withdrawal = value.withdrawal_n_mm2.as_ref().and_then(|written| self.withdrawal(entry, written));
        Some(Fastener { item, usage, covering, length, diameter, shank, head, coating, withdrawal })
    }

    /// Nails are smooth, ringed or twisted; screws are threaded.
    fn shank(&mut self, entry: &Entry<'_, FastenerEntry>, usage: FastenerUse) -> Option<Shank> {
        let nails = [("smooth", Shank::Smooth), ("ringed", Shank::Ringed), ("twisted", Shank::Twisted)];
        let all = match usage {
            FastenerUse::SheetNail => nails.as_slice(),
            FastenerUse::SheetScrew | FastenerUse::DeckScrew | FastenerUse::PurlinScrew => {
                &[("threaded", Shank::Threaded)]
            }
        };
        self.one_of(entry, &entry.value.shank, all)
    }

    /// In N/mm², to the thousandth.
    fn withdrawal(&mut self, entry: &Entry<'_, FastenerEntry>, written: &Spanned<f64>) -> Option<Withdrawal> {
        // A thousand of one is a thousandth of the other: metres by millimetres, N/mm² by kPa.
        let kpa = Length::from_mm_f64(*written.get_ref()).map(Length::um).filter(|kpa| *kpa > 0);
        if kpa.is_none() {
            let what =
                format!("{} N/mm² is no strength: write what the maker declares, as 4.5.", written.get_ref());
            self.faults.at(entry.at(written), what);
        }
        kpa.map(Withdrawal::from_kpa)
    }

    fn edge(&mut self, entry: &Entry<'_, EdgeEntry>) -> Option<EdgePiece> {
        let value = &entry.value;
        let item = self.item(entry, value.label(), Some(&value.mass_g));
        let length = self.size(entry, &value.length_mm);
        let lap = self.reach(entry, &value.lap_mm);
        let wing = self.reach(entry, &value.wing_mm);
        let thickness = self.reach(entry, &value.thickness_mm);
        let from = angle(*value.from_deg.get_ref(), entry.at(&value.from_deg), self.faults);
        let to = angle(*value.to_deg.get_ref(), entry.at(&value.to_deg), self.faults);
        if lap >= length {
            self.faults
                .at(entry.at(&value.lap_mm), "the lap is as long as the piece: nothing of it would show.");
        }
        if from > to {
            self.faults.at(entry.at(&value.from_deg), "the flattest pitch must be less than the steepest.");
        }
        let covering = self.known_covering(entry, &value.covering);
        let edge = self.one_of(entry, &value.edge, &EDGES)?;
        Some(EdgePiece { item, covering, edge, length, lap, wing, thickness, pitch: (from, to) })
    }

    fn timber(&mut self, entry: &Entry<'_, TimberEntry>) -> Timber {
        let value = &entry.value;
        let item = self.item(entry, value.label(), None);
        let mut stock: Vec<Length> =
            value.stock_mm.get_ref().iter().map(|length| self.size(entry, length)).collect();
        if stock.is_empty() {
            self.faults.at(entry.at(&value.stock_mm), "say the lengths it is sold in, as [2400, 3600].");
        }
        stock.sort_unstable();
        Timber {
            item,
            width: self.size(entry, &value.width_mm),
            depth: self.size(entry, &value.depth_mm),
            stock,
            mass_per_m: mass(*value.mass_per_m_g.get_ref(), entry.at(&value.mass_per_m_g), self.faults),
            price_per_m: self.money(entry, value.price_per_m.as_ref()),
            class: value.class.as_ref().map(|class| class.get_ref().clone()),
        }
    }

    fn area(&mut self, entry: &Entry<'_, AreaEntry>) -> Option<AreaPiece> {
        let value = &entry.value;
        let uses =
            [("underlay", AreaUse::Underlay), ("insulation", AreaUse::Insulation), ("deck", AreaUse::Deck)];
        let item = self.item(entry, value.label(), Some(&value.mass_g));
        let length = self.size(entry, &value.length_mm);
        let width = self.size(entry, &value.width_mm);
        let thickness = self.size(entry, &value.thickness_mm);
        let lap = self.reach(entry, &value.lap_mm);
        if lap >= width {
            self.faults
                .at(entry.at(&value.lap_mm), "the lap is as wide as the piece: nothing of it would show.");
        }
        let usage = self.one_of(entry, &value.usage, &uses)?;
        let boards = [("boards", Board::Boards), ("plywood", Board::Plywood), ("osb3", Board::Osb3)];
        let board = value.board.as_ref().and_then(|board| self.one_of(entry, board, &boards));
        Some(AreaPiece { item, usage, length, width, thickness, lap, board })
    }

    fn sundry(&mut self, entry: &Entry<'_, SundryEntry>) -> Option<Sundry> {
        let value = &entry.value;
        let item = self.item(entry, value.label(), Some(&value.mass_g));
        let length = self.size(entry, &value.length_mm);
        let usage = self.one_of(entry, &value.usage, &SundryUse::NAMED)?;
        Some(Sundry { item, usage, length })
    }

    fn covering(&mut self, entry: &Entry<'_, CoveringEntry>) -> Option<Covering> {
        let value = &entry.value;
        let id = value.id.get_ref();
        if self.coverings.contains(id) {
            let what = format!("there are two coverings `{id}`: give one another id.");
            self.faults.at(entry.at(&value.id), what);
        }
        self.coverings.push(id.clone());
        if value.name.get_ref().trim().is_empty() {
            self.faults.at(entry.at(&value.name), "a covering needs a name that people know it by.");
        }
        let fixings = [
            ("nail_through_crown", FixingMethod::NailThroughCrown),
            ("screw_in_pan", FixingMethod::ScrewInPan),
            ("screw_through_crown", FixingMethod::ScrewThroughCrown),
        ];
        let stocks = [
            ("cut_from_sheets", StockMethod::CutFromStock),
            ("ordered_to_length", StockMethod::OrderedToLength),
        ];
        let edges = value.edges.get_ref().iter().map(|edge| self.one_of(entry, edge, &EDGES));
        let edges: Vec<Option<EdgeUse>> = edges.collect();
        let (fixing, stock) =
            (self.one_of(entry, &value.fixing, &fixings), self.one_of(entry, &value.stock, &stocks));
        Some(Covering {
            id: id.clone(),
            name: value.name.get_ref().clone(),
            fixing: fixing?,
            stock: stock?,
            on_deck: value.on_deck,
            edges: edges.into_iter().flatten().collect(),
            finials: value.finials,
            wording: value.wording.clone(),
        })
    }

    /// The id of a covering that there is.
    fn known_covering<T>(&mut self, entry: &Entry<'_, T>, written: &Spanned<String>) -> String {
        let id = written.get_ref();
        if !self.coverings.contains(id) {
            let meant = meant(id, self.coverings.iter().map(String::as_str));
            self.faults.at(entry.at(written), format!("there is no covering `{id}`. {meant}"));
        }
        id.clone()
    }

    fn one_of<T, U: Copy>(
        &mut self,
        entry: &Entry<'_, T>,
        written: &Spanned<String>,
        known: &[(&str, U)],
    ) -> Option<U> {
        let word = written.get_ref();
        let found = known.iter().find(|(name, _)| name == word).map(|(_, value)| *value);
        if found.is_none() {
            let names = known.iter().map(|(name, _)| *name).collect::<Vec<_>>().join(", ");
            self.faults.at(entry.at(written), format!("`{word}` is not known here. It may be {names}."));
        }
        found
    }
}
