//! What the shop's stock lent, and what is still to be bought.

use std::io::{self, Write};

use super::{
    Page,
    markup::{MOST, end_table, escaped, table},
};
use crate::report::wording;

pub fn write(page: &Page<'_>, out: &mut dyn Write) -> io::Result<()> {
    let account = page.account;
    let lent = account.put_back.iter().flatten().map(|lent| {
        let mut about = wording::to_stages(account, &lent.stages);
        if !lent.bins.is_empty() {
            about.push_str(&format!(" \u{b7} from {}", lent.bins.join(", ")));
        }
        (lent.text.as_str(), about, lent.pieces)
    });
    items(out, &lent.collect::<Vec<_>>())?;
    out.write_all(b"<h2>To buy</h2>\n")?;
    let to_buy = account.to_buy.iter().map(|buy| {
        let item = &account.items[buy.item];
        (item.text.as_str(), wording::to_buy(buy), buy.pieces())
    });
    items(out, &to_buy.collect::<Vec<_>>())
}

/// A table of items, what there is to say of each, and its pieces.
fn items(out: &mut dyn Write, rows: &[(&str, String, u64)]) -> io::Result<()> {
    if rows.is_empty() {
        return out.write_all(b"<p>Nothing.</p>\n");
    }
    table(out, &["Pieces"])?;
    for (text, about, pieces) in rows.iter().take(MOST) {
        writeln!(
            out,
            "<tr><td>{}<span class=\"quiet\">{}</span></td><td class=\"n\">{pieces}</td></tr>",
            escaped(text),
            escaped(about)
        )?;
    }
    end_table(out, rows.len())
}
