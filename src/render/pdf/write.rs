//! Marks and parts become a PDF file.

use std::num::NonZeroU16;

use krilla::color::rgb;
use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Rect, Size, Transform};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, ListNumbering, Node, SpanTag, TableHeaderScope, Tag,
    TagGroup, TagKind, TagTree,
};
use krilla::text::TextDirection;
use krilla::{Document as File, SerializeSettings};
use krilla_svg::{SurfaceExt, SvgSettings};
use resvg::usvg::Tree;

use super::flow::{Mark, Pages, Part, Placed, Role};
use super::typeface::Typefaces;
use crate::drawing::document::Document;
use crate::render::RenderError;

pub(super) fn write(
    document: &Document,
    typefaces: &Typefaces,
    trees: &[Tree],
    pages: &Pages,
) -> Result<Vec<u8>, RenderError> {
    let writer = |error: &dyn std::fmt::Debug| RenderError::Writer(format!("{error:?}"));
    let configuration = ConfigurationBuilder::new()
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|error| writer(&error))?;
    let settings = SerializeSettings { configuration, enable_tagging: true, ..SerializeSettings::default() };
    let mut file = File::new_with(settings);
    let mut leaves: Vec<Vec<Identifier>> = vec![Vec::new(); pages.leaves];
    for marks in &pages.sheets {
        let size = || RenderError::Size {
            name: document.title.clone(),
            width: pages.size.0.into(),
            height: pages.size.1.into(),
        };
        let page_settings = PageSettings::from_wh(pages.size.0, pages.size.1).ok_or_else(size)?;
        let mut page = file.start_page_with(page_settings);
        let mut surface = page.surface();
        for placed in marks {
            put(&mut surface, placed, typefaces, trees, &mut leaves);
        }
        surface.finish();
        page.finish();
    }
    let mut tree = TagTree::new().with_lang(Some(document.language.clone()));
    for part in &pages.parts {
        tree.push(node(part, &mut leaves));
    }
    file.set_tag_tree(tree);
    file.set_metadata(
        Metadata::new()
            .title(document.title.clone())
            .language(document.language.clone())
            .creator("lapwise".to_owned()),
    );
    let mut outline = Outline::new();
    for (words, page, y) in &pages.outline {
        let place = XyzDestination::new(*page, Point::from_xy(0.0, *y));
        outline.push_child(OutlineNode::new(words.clone(), place));
    }
    file.set_outline(outline);
    file.finish().map_err(|error| writer(&error))
}

fn put(
    surface: &mut Surface<'_>,
    placed: &Placed,
    typefaces: &Typefaces,
    trees: &[Tree],
    leaves: &mut [Vec<Identifier>],
) {
    let tag = match (placed.leaf, &placed.mark) {
        (None, _) => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Other)),
        (Some(_), Mark::Words { .. }) => ContentTag::Span(SpanTag::empty()),
        (Some(_), Mark::Rule { .. } | Mark::Frame { .. } | Mark::Picture { .. }) => ContentTag::Other,
    };
    let identifier = surface.start_tagged(tag);
    draw(surface, &placed.mark, typefaces, trees);
    surface.end_tagged();
    if let Some(leaf) = placed.leaf.and_then(|leaf| leaves.get_mut(leaf)) {
        leaf.push(identifier);
    }
}

fn draw(surface: &mut Surface<'_>, mark: &Mark, typefaces: &Typefaces, trees: &[Tree]) {
    match mark {
        Mark::Words { x, y, size, cut, words } => {
            surface.set_stroke(None);
            surface.set_fill(Some(Fill { paint: ink().into(), ..Fill::default() }));
            let font = typefaces.cut(*cut).font.clone();
            surface.draw_text(Point::from_xy(*x, *y), font, *size, words, false, TextDirection::Auto);
        }
        Mark::Rule { x, y, width, is_heavy } => {
            let mut path = PathBuilder::new();
            path.move_to(*x, *y);
            path.line_to(x + width, *y);
            let (colour, weight) = if *is_heavy { (ink(), 0.9) } else { (faint(), 0.5) };
            outline(surface, path.finish(), colour, weight);
        }
        Mark::Frame { x, y, width, height } => {
            let mut path = PathBuilder::new();
            if let Some(rect) = Rect::from_xywh(*x, *y, *width, *height) {
                path.push_rect(rect);
            }
            outline(surface, path.finish(), ink(), 0.7);
        }
        Mark::Picture { index, x, y, width, height } => {
            if let (Some(tree), Some(size)) = (trees.get(*index), Size::from_wh(*width, *height)) {
                surface.push_transform(&Transform::from_translate(*x, *y));
                // `None` would mean a clip of no size, which `Size` rules out.
                let _ = surface.draw_svg(tree, size, SvgSettings::default());
                surface.pop();
            }
        }
    }
}

fn outline(surface: &mut Surface<'_>, path: Option<Path>, colour: rgb::Color, width: f32) {
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke { paint: colour.into(), width, ..Stroke::default() }));
    if let Some(path) = path {
        surface.draw_path(&path);
    }
}

fn ink() -> rgb::Color {
    rgb::Color::new(26, 26, 26)
}

/// For what only guides the eye.
fn faint() -> rgb::Color {
    rgb::Color::new(160, 160, 160)
}

fn node(part: &Part, leaves: &mut [Vec<Identifier>]) -> Node {
    let mut group = TagGroup::new(kind(&part.role));
    let marks = part.leaf.and_then(|leaf| leaves.get_mut(leaf)).map(std::mem::take);
    for mark in marks.unwrap_or_default() {
        group.push(mark);
    }
    for part in &part.parts {
        group.push(node(part, leaves));
    }
    Node::Group(group)
}

fn kind(role: &Role) -> TagKind {
    match role {
        Role::Heading(level, title) => {
            Tag::Hn(NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN), Some(title.clone())).into()
        }
        Role::Paragraph => Tag::P.into(),
        Role::List { numbered: true } => Tag::L(ListNumbering::Decimal).into(),
        Role::List { numbered: false } => Tag::L(ListNumbering::Disc).into(),
        Role::Entry => Tag::LI.into(),
        Role::EntryLabel => Tag::Lbl.into(),
        Role::EntryBody => Tag::LBody.into(),
        Role::Table => Tag::Table.into(),
        Role::Row => Tag::TR.into(),
        Role::HeadCell => Tag::TH(TableHeaderScope::Both).into(),
        Role::Cell => Tag::TD.into(),
        Role::Figure(alt) => Tag::Figure(Some(alt.clone())).into(),
    }
}
