//! Tools to bring, and what is not in the kit.

use std::io::{self, Write};

use super::{
    Page,
    markup::{MOST, escaped, more},
};
use crate::report::tools::to_bring;

pub fn write(page: &Page<'_>, out: &mut dyn Write) -> io::Result<()> {
    let all = to_bring(page.job, page.lists, page.account);
    if all.is_empty() {
        return out.write_all(b"<p>The lists name nothing that a tool turns.</p>\n");
    }
    out.write_all(b"<ul>\n")?;
    for bring in all.iter().take(MOST) {
        let size = match bring.size.as_str() {
            "" => String::new(),
            size => format!(" {size}"),
        };
        write!(
            out,
            "<li><strong>{} \u{d7} {}{}</strong>: {}",
            bring.at_once,
            escaped(&bring.tool),
            escaped(&size),
            escaped(&bring.what)
        )?;
        if !bring.look.is_empty() {
            write!(
                out,
                "<br><span class=\"quiet\">{}</span>",
                escaped(&bring.look)
            )?;
        }
        out.write_all(b"</li>\n")?;
    }
    out.write_all(b"</ul>\n")?;
    more(out, all.len())
}
