//! Lines that want a person's eye, and what the list itself asks.

use std::io::{self, Write};

use super::{
    Page,
    markup::{MOST, bullets, escaped, more},
};
use crate::report::{wording, workbook::check};

pub fn write(page: &Page<'_>, out: &mut dyn Write) -> io::Result<()> {
    let mut entries = check::entries(page.lists).peekable();
    if entries.peek().is_none() {
        out.write_all(b"<p>Every line was read without a doubt.</p>\n")?;
    } else {
        out.write_all(
            b"<p>aside: not understood, kept word for word and not summed. \
              check: understood, with a doubt.</p>\n<ul>\n",
        )?;
        for (list, line, status) in entries.by_ref().take(MOST) {
            let reads = list
                .reading_of(line)
                .map_or(String::new(), |r| format!(", read as {}", r.item.text()));
            writeln!(
                out,
                "<li><strong>{status}</strong> \u{201c}{}\u{201d}{}<br>{}<br>\
                 <span class=\"quiet\">{}</span></li>",
                escaped(&list.text_of(line)),
                escaped(&reads),
                escaped(&wording::why(list, line).join("; ")),
                escaped(&list.address_of(line))
            )?;
        }
        out.write_all(b"</ul>\n")?;
        more(out, MOST + entries.count())?;
    }
    if !page.audit.findings.is_empty() {
        out.write_all(b"<h3>Questions on the list itself, whatever was shipped</h3>\n")?;
        let findings = page.audit.findings.iter().take(MOST);
        bullets(out, findings.map(|f| wording::question(page.account, f)))?;
        more(out, page.audit.findings.len())?;
    }
    Ok(())
}
