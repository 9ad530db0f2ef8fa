//! A diameter and a length in cells side by side, where no heading says so: `Hex bolt | 1/2-13 | 3-3/4 | 8`.

/// What stands between two cells when they are joined to a line. `counted`: whether a cell elsewhere says how many.
pub fn between(cell: &str, next: &str, counted: impl FnOnce() -> bool) -> &'static str {
    let are_sizes = is_diameter(cell) && is_figure(next);
    // A whole number may be how many, unless something else is.
    match are_sizes && (next.contains(['/', '.']) || counted()) {
        true => " x ",
        false => " ",
    }
}

/// True for a diameter alone, with or without its thread: `1/2`, `3/8-16`, `#10-24`, `M8`.
fn is_diameter(text: &str) -> bool {
    let text = text.trim().trim_end_matches(['"', '\u{201d}']);
    let text = (text.strip_suffix("UNC"))
        .or(text.strip_suffix("UNF"))
        .unwrap_or(text)
        .trim_end();
    let figures = text.trim_start_matches(['M', '#']);
    let is_marked = figures.len() < text.len() || text.contains(['/', '-']);
    is_marked && is_figure(figures)
}

/// True for a number as sizes are written: `6`, `3-3/4`, `2.5`.
fn is_figure(text: &str) -> bool {
    let text = text.trim().trim_end_matches(['"', '\u{201d}']);
    let is_part = |b: u8| b.is_ascii_digit() || matches!(b, b'/' | b'-' | b'.' | b' ');
    text.starts_with(|c: char| c.is_ascii_digit()) && text.bytes().all(is_part)
}
