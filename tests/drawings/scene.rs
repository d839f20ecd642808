//! An SVG file read back, as a program would.

use resvg::usvg::roxmltree::{Document, Node};

/// Every element of a class.
pub(crate) fn of_class<'a>(svg: &'a Document<'a>, class: &str) -> Vec<Node<'a, 'a>> {
    svg.descendants().filter(|node| has_class(*node, class)).collect()
}

pub(crate) fn has_class(node: Node, class: &str) -> bool {
    node.attribute("class").is_some_and(|all| all.split(' ').any(|one| one == class))
}

/// A figure in millimetres, as micrometres: exact.
pub(crate) fn um(node: Node, name: &str) -> i64 {
    let text = node.attribute(name).unwrap_or_else(|| panic!("no `{name}`"));
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let sign = if whole.starts_with('-') { -1 } else { 1 };
    let part: i64 = format!("{part:0<3}")[..3].parse().unwrap();
    whole.parse::<i64>().unwrap() * 1_000 + sign * part
}

/// A whole number.
pub(crate) fn count(node: Node, name: &str) -> i64 {
    node.attribute(name).unwrap_or_else(|| panic!("no `{name}`")).parse().unwrap()
}

/// Every line of words.
pub(crate) fn words(svg: &Document) -> Vec<String> {
    let texts = svg.descendants().filter(|node| node.has_tag_name("text"));
    texts.filter_map(|node| node.text().map(str::to_owned)).collect()
}
