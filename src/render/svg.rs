//! SVG 1.1, by hand: small, the same on every machine, every word escaped once, in one place.
//!
//! Coordinates are written to a tenth of a paper unit; exact figures stand in `data-` attributes. Colours
//! are presentation attributes, so a page with a strict content policy shows them; dark ones come by class
//! from [`dark_style`], which a page may serve itself.

use std::fmt::Write as _;

use super::palette::{DARK, LIGHT, Palette};
use crate::drawing::picture::{
    Anchor, Fill, Group, Hatch, Look, Node, Outline, Pen, Picture, Point, Shape, Text, Turn,
};

/// The type families asked for: the shipped one, then what stands nearest on other machines.
const FAMILIES: &str = "'DejaVu Sans Mono', Menlo, Consolas, monospace";

/// The picture as one SVG file.
pub fn write(picture: &Picture) -> String {
    let mut out = Writer { text: String::with_capacity(16 * 1024), name: &picture.name };
    out.head(picture);
    out.nodes(&picture.nodes);
    out.text.push_str("</svg>\n");
    out.text
}

/// The style sheet that turns every picture dark where the reader's screen is.
pub fn dark_style() -> String {
    let Palette { paper, ink, .. } = DARK;
    let mut css = format!("@media (prefers-color-scheme: dark) {{ .lw text {{ fill: {ink} }}");
    for pen in Pen::ALL {
        let _ = write!(css, " .lw .{} {{ stroke: {} }}", pen_class(pen), DARK.line(pen));
    }
    for fill in [Fill::Paper, Fill::Ink, Fill::Sheet, Fill::Timber, Fill::Deck] {
        let _ = write!(css, " .lw .{} {{ fill: {} }}", fill_class(fill), DARK.area(fill).unwrap_or(paper));
    }
    css.push_str(" }");
    css
}

const fn pen_class(pen: Pen) -> &'static str {
    match pen {
        Pen::Edge => "l-edge",
        Pen::Fine => "l-fine",
        Pen::Hidden => "l-hidden",
        Pen::Centre => "l-centre",
        Pen::Cut => "l-cut",
        Pen::Bold => "l-bold",
        Pen::Dimension => "l-dim",
    }
}

const fn fill_class(fill: Fill) -> &'static str {
    match fill {
        Fill::None => "a-none",
        Fill::Paper => "a-paper",
        Fill::Ink => "a-ink",
        Fill::Sheet => "a-sheet",
        Fill::Timber => "a-timber",
        Fill::Deck => "a-deck",
        Fill::Hatch(_) => "a-hatch",
    }
}

const fn hatch_name(hatch: Hatch) -> &'static str {
    match hatch {
        Hatch::Lap => "lap",
        Hatch::Waste => "waste",
        Hatch::Wall => "wall",
        Hatch::Insulation => "insulation",
    }
}

/// Tile size and the path drawn on it.
const fn hatch_tile(hatch: Hatch) -> (&'static str, &'static str) {
    match hatch {
        Hatch::Lap => ("8", "M-2 2L2 -2M0 8L8 0M6 10L10 6"),
        Hatch::Waste => ("16", "M0 16L16 0M0 0L16 16"),
        Hatch::Wall => ("20", "M0 0L20 20M-5 15L5 25M15 -5L25 5"),
        Hatch::Insulation => ("12", "M2 3h3M8 9h3"),
    }
}

struct Writer<'a> {
    text: String,
    name: &'a str,
}

impl Writer<'_> {
    fn head(&mut self, picture: &Picture) {
        let (width, height) = (number(picture.width), number(picture.height));
        let name = escape(&picture.name);
        let _ = writeln!(
            self.text,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"lw\" id=\"{name}\" viewBox=\"0 0 {width} {height}\" \
             role=\"img\" aria-labelledby=\"{name}-title {name}-desc\" font-family=\"{FAMILIES}\" \
             font-size=\"{}\" fill=\"{}\">",
            number(Picture::LETTERING),
            LIGHT.ink,
        );
        let _ = writeln!(self.text, "<title id=\"{name}-title\">{}</title>", escape(&picture.title));
        let _ = writeln!(self.text, "<desc id=\"{name}-desc\">{}</desc>", escape(&picture.description));
        if let Some(made) = &picture.made {
            let _ = writeln!(self.text, "<metadata>{}</metadata>", escape(made));
        }
        let _ = writeln!(self.text, "<style>{}</style>", dark_style());
        self.hatches(picture);
        let _ = writeln!(
            self.text,
            "<rect class=\"a-paper\" width=\"{width}\" height=\"{height}\" fill=\"{}\"/>",
            LIGHT.paper
        );
    }

    fn hatches(&mut self, picture: &Picture) {
        let mut used = Vec::new();
        used_hatches(&picture.nodes, &mut used);
        if used.is_empty() {
            return;
        }
        used.sort_unstable();
        used.dedup();
        self.text.push_str("<defs>\n");
        for hatch in used {
            let (tile, path) = hatch_tile(hatch);
            let _ = writeln!(
                self.text,
                "<pattern id=\"{}-{}\" width=\"{tile}\" height=\"{tile}\" patternUnits=\"userSpaceOnUse\">\
                 <path class=\"l-fine\" d=\"{path}\" fill=\"none\" stroke=\"{}\"/></pattern>",
                escape(self.name),
                hatch_name(hatch),
                LIGHT.ink,
            );
        }
        self.text.push_str("</defs>\n");
    }

    fn nodes(&mut self, nodes: &[Node]) {
        for node in nodes {
            match node {
                Node::Group(group) => self.group(group),
                Node::Shape(shape) => self.shape(shape),
                Node::Text(text) => self.words(text),
            }
        }
    }

    fn group(&mut self, group: &Group) {
        let _ = write!(self.text, "<g");
        self.classes(Some(group.class), group.look);
        if let Some(id) = &group.id {
            let _ = write!(self.text, " id=\"{}-{}\"", escape(self.name), escape(id));
        }
        self.data(&group.data);
        self.look(group.look);
        self.text.push_str(">\n");
        self.nodes(&group.nodes);
        self.text.push_str("</g>\n");
    }

    fn shape(&mut self, shape: &Shape) {
        match &shape.outline {
            Outline::Path { points, closed } => {
                let _ = write!(self.text, "<path d=\"{}\"", path(points, *closed));
            }
            Outline::Circle { centre, radius } => {
                let (x, y, r) = (number(centre.x), number(centre.y), number(*radius));
                let _ = write!(self.text, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"");
            }
        }
        self.classes(shape.class, shape.look);
        self.data(&shape.data);
        self.look(shape.look);
        self.text.push_str("/>\n");
    }

    fn classes(&mut self, class: Option<&str>, look: Option<Look>) {
        let pen = look.and_then(|look| look.pen).map(pen_class);
        let fill = look.map(|look| look.fill).filter(|fill| *fill != Fill::None).map(fill_class);
        let classes: Vec<&str> = [class, pen, fill].into_iter().flatten().collect();
        if !classes.is_empty() {
            let _ = write!(self.text, " class=\"{}\"", classes.join(" "));
        }
    }

    fn data(&mut self, data: &[(&'static str, String)]) {
        for (name, value) in data {
            let _ = write!(self.text, " data-{name}=\"{}\"", escape(value));
        }
    }

    fn look(&mut self, look: Option<Look>) {
        let Some(Look { pen, fill }) = look else { return };
        match fill {
            Fill::Hatch(hatch) => {
                let _ = write!(self.text, " fill=\"url(#{}-{})\"", escape(self.name), hatch_name(hatch));
            }
            Fill::None | Fill::Paper | Fill::Ink | Fill::Sheet | Fill::Timber | Fill::Deck => {
                let _ = write!(self.text, " fill=\"{}\"", LIGHT.area(fill).unwrap_or("none"));
            }
        }
        let Some(pen) = pen else { return };
        let _ = write!(self.text, " stroke=\"{}\" stroke-width=\"{}\"", LIGHT.line(pen), number(pen.width()));
        if !pen.dashes().is_empty() {
            let dashes: Vec<String> = pen.dashes().iter().map(|dash| number(*dash)).collect();
            let _ = write!(self.text, " stroke-dasharray=\"{}\"", dashes.join(" "));
        }
    }

    fn words(&mut self, text: &Text) {
        if text.backed {
            let bounds = text.bounds();
            let corners = [
                Point::new(bounds.left - 3.0, bounds.top - 1.0),
                Point::new(bounds.right + 3.0, bounds.top - 1.0),
                Point::new(bounds.right + 3.0, bounds.bottom),
                Point::new(bounds.left - 3.0, bounds.bottom),
            ];
            let _ = writeln!(
                self.text,
                "<path d=\"{}\" class=\"a-paper\" fill=\"{}\"/>",
                path(&corners, true),
                LIGHT.paper
            );
        }
        let (x, y) = (number(text.at.x), number(text.at.y));
        let _ = write!(self.text, "<text x=\"{x}\" y=\"{y}\"");
        match text.anchor {
            Anchor::Start => {}
            Anchor::Middle => self.text.push_str(" text-anchor=\"middle\""),
            Anchor::End => self.text.push_str(" text-anchor=\"end\""),
        }
        match text.turn {
            Turn::Level => {}
            Turn::Upwards => {
                let _ = write!(self.text, " transform=\"rotate(-90 {x} {y})\"");
            }
        }
        if (text.size - Picture::LETTERING).abs() > 0.05 {
            let _ = write!(self.text, " font-size=\"{}\"", number(text.size));
        }
        if text.bold {
            self.text.push_str(" font-weight=\"bold\"");
        }
        let _ = writeln!(self.text, ">{}</text>", escape(&text.words));
    }
}

fn used_hatches(nodes: &[Node], used: &mut Vec<Hatch>) {
    for node in nodes {
        let look = match node {
            Node::Group(group) => {
                used_hatches(&group.nodes, used);
                group.look
            }
            Node::Shape(shape) => shape.look,
            Node::Text(_) => None,
        };
        if let Some(Look { fill: Fill::Hatch(hatch), .. }) = look {
            used.push(hatch);
        }
    }
}

fn path(points: &[Point], closed: bool) -> String {
    let mut path = String::new();
    for (index, point) in points.iter().enumerate() {
        let step = if index == 0 { 'M' } else { 'L' };
        let _ = write!(path, "{step}{} {}", number(point.x), number(point.y));
    }
    if closed {
        path.push('Z');
    }
    path
}

/// A coordinate to a tenth, without an idle `.0` or a negative nought.
fn number(value: f64) -> String {
    let text = format!("{value:.1}");
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Text fit for XML: marks escaped, characters that XML 1.0 forbids left out.
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' | '\t' => out.push(letter),
            '\u{fffe}' | '\u{ffff}' => {}
            _ if letter.is_control() => {}
            _ => out.push(letter),
        }
    }
    out
}
