//! How much memory a process takes.

/// In kB: `VmRSS:` now, `VmHWM:` at most so far; 0 where it has ended.
pub(crate) fn kb(process: u32, what: &str) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix(what));
    line.and_then(|line| line.split_whitespace().next()?.parse().ok()).unwrap_or_default()
}
