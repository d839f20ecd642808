//! A plain HTTP client that sends exactly what a test wants, wrong things included.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::net::SocketAddr;

use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;

/// An answer.
#[derive(Clone, Debug)]
pub(crate) struct Answer {
    /// Its status.
    pub(crate) status: u16,
    /// Its headers, names in lower case; of a repeated one the last.
    pub(crate) headers: BTreeMap<String, String>,
    /// Its body.
    pub(crate) body: String,
}

impl Answer {
    fn read(bytes: &[u8]) -> Self {
        let text = String::from_utf8_lossy(bytes);
        let (head, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
        let mut lines = head.lines();
        let status = lines.next().and_then(|line| line.split(' ').nth(1)?.parse().ok()).unwrap_or(0);
        let headers = lines.filter_map(|line| line.split_once(':'));
        let headers: BTreeMap<String, String> =
            headers.map(|(name, value)| (name.to_lowercase(), value.trim().to_owned())).collect();
        let is_chunked = headers.get("transfer-encoding").is_some_and(|how| how == "chunked");
        let body = if is_chunked { unchunked(body) } else { body.to_owned() };
        Self { status, headers, body }
    }

    pub(crate) fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", String::as_str)
    }
}

fn unchunked(body: &str) -> String {
    let mut rest = body;
    let mut out = String::new();
    while let Some((size, after)) = rest.split_once("\r\n") {
        let size = usize::from_str_radix(size.trim(), 16).unwrap_or(0);
        if size == 0 || after.len() < size {
            break;
        }
        out.push_str(&after[..size]);
        rest = after[size..].trim_start_matches("\r\n");
    }
    out
}

/// Whether an answer has all of the body that it announced; some servers keep the connection open after it.
fn is_whole(answer: &[u8]) -> bool {
    let Some(end) = answer.windows(4).position(|four| four == b"\r\n\r\n") else { return false };
    let head = String::from_utf8_lossy(&answer[..end]).to_lowercase();
    let length = head.split("content-length:").nth(1).and_then(|rest| rest.lines().next());
    length
        .and_then(|length| length.trim().parse::<usize>().ok())
        .is_some_and(|length| answer.len() >= end + 4 + length)
}

/// Sends bytes as they are and reads until the other end closes.
pub(crate) async fn send_raw(to: SocketAddr, bytes: &[u8]) -> Answer {
    let mut stream = TcpStream::connect(to).await.expect("the server listens");
    // A server that has heard enough closes while we still write.
    let _ = stream.write_all(bytes).await;
    let mut answer = Vec::new();
    while !is_whole(&answer) {
        match stream.read_buf(&mut answer).await {
            Ok(0) | Err(_) => break,
            Ok(_) => {}
        }
    }
    Answer::read(&answer)
}

/// One request on a connection of its own.
pub(crate) async fn send(
    to: SocketAddr,
    method: &str,
    path: &str,
    headers: &[(&str, &str)],
    body: &str,
) -> Answer {
    let mut request = format!("{method} {path} HTTP/1.1\r\nhost: {to}\r\nconnection: close\r\n");
    for (name, value) in headers {
        let _ = write!(request, "{name}: {value}\r\n");
    }
    if method == "POST" {
        let _ = write!(request, "content-length: {}\r\n", body.len());
    }
    request.push_str("\r\n");
    request.push_str(body);
    send_raw(to, request.as_bytes()).await
}

/// Text as it stands in a form.
pub(crate) fn encoded(text: &str) -> String {
    let plain = |b: u8| b.is_ascii_alphanumeric();
    text.bytes().map(|b| if plain(b) { char::from(b).to_string() } else { format!("%{b:02X}") }).collect()
}

/// Fields as a form's body.
pub(crate) fn form(fields: &[(&str, &str)]) -> String {
    let pairs: Vec<String> =
        fields.iter().map(|(name, value)| format!("{}={}", encoded(name), encoded(value))).collect();
    pairs.join("&")
}
