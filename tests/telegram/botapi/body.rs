//! The three forms in which parameters come: JSON, URL-encoded, multipart.

use serde_json::{Map, Value};

/// The parameters, and the name and size of a file where there is one.
pub fn read(kind: &str, body: &[u8]) -> (Value, Option<(String, usize)>) {
    if let Some((_, boundary)) = kind.split_once("boundary=") {
        return multipart(boundary.trim_matches('"'), body);
    }
    if kind.starts_with("application/x-www-form-urlencoded") {
        let text = std::str::from_utf8(body).unwrap();
        let url = reqwest::Url::parse(&format!("http://x/?{text}")).unwrap();
        let fields = url.query_pairs().map(|(name, value)| (name.into_owned(), field(&value)));
        return (Value::Object(fields.collect()), None);
    }
    (serde_json::from_slice(body).unwrap_or_else(|_| Value::Object(Map::new())), None)
}

fn multipart(boundary: &str, body: &[u8]) -> (Value, Option<(String, usize)>) {
    let (mut fields, mut file) = (Map::new(), None);
    let mark = format!("--{boundary}");
    for part in split(body, mark.as_bytes()) {
        let Some(at) = find(part, b"\r\n\r\n") else { continue };
        let head = String::from_utf8_lossy(&part[..at]);
        let content = &part[at + 4..part.len().saturating_sub(2)];
        let Some(name) = attribute(&head, "name") else { continue };
        match attribute(&head, "filename") {
            Some(filename) => file = Some((filename, content.len())),
            None => {
                fields.insert(name, field(&String::from_utf8_lossy(content)));
            }
        }
    }
    (Value::Object(fields), file)
}

/// Fields of a form are JSON where they are lists or objects, and text otherwise; whoever wants a number reads it.
fn field(text: &str) -> Value {
    match serde_json::from_str(text) {
        Ok(value @ (Value::Object(_) | Value::Array(_))) => value,
        _ => Value::String(text.to_owned()),
    }
}

fn attribute(head: &str, name: &str) -> Option<String> {
    let (_, rest) = head.split_once(&format!(" {name}=\""))?;
    rest.split_once('"').map(|(value, _)| value.to_owned())
}

fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).position(|window| window == what)
}

fn split<'a>(mut bytes: &'a [u8], mark: &[u8]) -> Vec<&'a [u8]> {
    let mut parts = Vec::new();
    while let Some(at) = find(bytes, mark) {
        parts.push(&bytes[..at]);
        bytes = &bytes[at + mark.len()..];
    }
    parts
}
