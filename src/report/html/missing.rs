//! What is missing, and what else was found.

use std::io::{self, Write};

use super::{
    Page,
    markup::{MOST, band, end_table, escaped, table},
};
use crate::report::{
    wording,
    workbook::shortages::{self, Entry},
};

pub fn write(page: &Page<'_>, out: &mut dyn Write) -> io::Result<()> {
    let entries = shortages::entries(page.account);
    let (short, other): (Vec<_>, Vec<_>) = entries.iter().partition(|e| e.share.is_some());
    match short.is_empty() {
        true => out.write_all(b"<p>Nothing is known to be short.</p>\n")?,
        false => items(page, &short, out)?,
    }
    if !other.is_empty() {
        out.write_all(b"<h3>Also found, of items that are not short</h3>\n")?;
        items(page, &other, out)?;
    }
    Ok(())
}

/// A table of items with what was found out about them.
fn items(page: &Page<'_>, entries: &[&Entry<'_>], out: &mut dyn Write) -> io::Result<()> {
    table(out, &["Required", "Short"])?;
    for Entry { item, share, .. } in entries.iter().copied().take(MOST) {
        out.write_all(b"<tr><td>")?;
        if let Some(share) = share {
            let stage = wording::stage_name(page.account, share.stage);
            write!(
                out,
                "<span class=\"band\" style=\"{}\">{} {}</span> ",
                band(share.stage),
                share.stage + 1,
                escaped(stage)
            )?;
        }
        let shipped = item
            .shipped
            .map_or("no slip".to_owned(), |n| format!("shipped {n}"));
        let counted = item
            .counted
            .map_or(wording::NOT_COUNTED.to_owned(), |n| format!("counted {n}"));
        write!(
            out,
            "<strong>{}</strong><span class=\"quiet\">in the whole job: required {}, {shipped}, \
             {counted}</span>",
            escaped(&item.text),
            item.sums.required
        )?;
        let found = wording::found(item);
        let sources = wording::sources_of(page.lists, item);
        for words in found.lines().chain([sources.as_str()]) {
            write!(out, "<span class=\"quiet\">{}</span>", escaped(words))?;
        }
        let (required, short) = match share {
            Some(share) => (share.required, wording::known_short_in(item, share)),
            None => (item.sums.required, Some(0)),
        };
        let at_least = || wording::cannot_say(share.map_or(0, |share| share.at_least));
        let short = short.map_or_else(at_least, |pieces| pieces.to_string().into());
        writeln!(
            out,
            "</td><td class=\"n\">{required}</td><td class=\"n\"><strong>{short}</strong></td></tr>"
        )?;
    }
    end_table(out, entries.len())
}
