//! One page for phone and print, in one file: no scripts, nothing from the network.

mod gauge;

use std::{
    fmt::{self, Write as _},
    io::{self, BufWriter, Write},
    path::Path,
};

use rust_xlsxwriter::Color;

use super::{
    bin_map::BinMap,
    file,
    masses::Masses,
    wording,
    workbook::{
        by_stage::{self, State},
        check,
        shortages::{self, Entry},
        style,
    },
};
use crate::{
    Result,
    audit::Audit,
    bins::Layout,
    kit::{Job, List},
    settle::{Account, Verdict},
};

const STYLE: &str = include_str!("page.css");
/// Entries of a list before it goes on in the workbook.
const MOST: usize = 500;

/// Writes the page in place of what stands at `path`, whole or not at all.
///
/// # Errors
/// [`crate::Error::Output`] for a path that cannot be written, or that exists without `force`.
pub fn write(
    path: &Path,
    force: bool,
    job: &Job,
    lists: &[List],
    account: &Account,
    layout: &Layout,
    audit: &Audit,
) -> Result<()> {
    let now = jiff::ZonedDateTime::now().datetime();
    let page = Page {
        job,
        lists,
        account,
        layout,
        audit,
        when: now.strftime("%Y-%m-%d %H:%M").to_string(),
    };
    file::replace(path, force, |out| {
        let mut out = BufWriter::new(out);
        page.write(&mut out)?;
        out.flush()
    })
}

struct Page<'a> {
    job: &'a Job,
    lists: &'a [List],
    account: &'a Account,
    layout: &'a Layout,
    audit: &'a Audit,
    when: String,
}

/// A text as it may stand between tags and in quoted attributes.
struct Escaped<'a>(&'a str);

fn escaped(text: &str) -> Escaped<'_> {
    Escaped(text)
}

impl fmt::Display for Escaped<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.chars().try_for_each(|c| match c {
            '&' => f.write_str("&amp;"),
            '<' => f.write_str("&lt;"),
            '>' => f.write_str("&gt;"),
            '"' => f.write_str("&quot;"),
            '\'' => f.write_str("&#39;"),
            '\n' | '\t' => f.write_char(' '),
            c if c.is_control() => f.write_char(char::REPLACEMENT_CHARACTER),
            c => f.write_char(c),
        })
    }
}

fn hex(color: Color) -> String {
    match color {
        Color::RGB(rgb) => format!("#{rgb:06x}"),
        Color::White => "#ffffff".to_owned(),
        _ => "#000000".to_owned(),
    }
}

/// The colours of a stage's band.
fn band(stage: usize) -> String {
    let (fill, words) = style::stage_colours(stage);
    format!("background:{};color:{}", hex(fill), hex(words))
}

impl Page<'_> {
    fn write(&self, out: &mut impl Write) -> io::Result<()> {
        let name = escaped(&self.job.name);
        write!(
            out,
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
             <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
             <title>{name}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n\
             <header>\n<h1>{name}</h1>\n<p class=\"quiet\">{}. Settled {}.</p>\n</header>\n<main>\n",
            escaped(&wording::job(self.job)),
            self.when
        )?;
        self.answer(out)?;
        let link = |there: bool, to: &'static str| if there { to } else { "" };
        let parcels = link(
            !self.account.parcels.is_empty(),
            "<li><a href=\"#parcels\">Parcels</a></li>",
        );
        let stock = link(
            self.account.put_back.is_some(),
            "<li><a href=\"#stock\">From stock, to buy</a></li>",
        );
        let left = link(
            self.account.left_over.is_some(),
            "<li><a href=\"#left\">Left over</a></li>",
        );
        writeln!(
            out,
            "<nav aria-label=\"On this page\"><ul>\
              <li><a href=\"#missing\">What is missing</a></li>{parcels}\
              <li><a href=\"#stages\">By stage</a></li>{stock}{left}\
              <li><a href=\"#bins\">Bins</a></li>\
              <li><a href=\"#check\">Lines to check</a></li>\
              <li><a href=\"#cautions\">Before you build</a></li>\
              <li><a href=\"#gauge\">Length gauge</a></li></ul></nav>",
        )?;
        self.missing(out)?;
        self.parcels(out)?;
        self.stages(out)?;
        self.stock(out)?;
        self.left_over(out)?;
        self.bins(out)?;
        self.check(out)?;
        out.write_all(b"<section id=\"cautions\"><h2>Before you build</h2>\n")?;
        let masses = Masses::of(self.job, self.lists, self.account);
        let lift = masses.largest_lift().to_owned();
        let cautions = wording::CAUTIONS.iter().map(ToString::to_string);
        bullets(out, std::iter::once(lift).chain(cautions))?;
        out.write_all(b"</section>\n")?;
        gauge::write(self.account, out)?;
        out.write_all(b"</main>\n</body>\n</html>\n")
    }

    fn answer(&self, out: &mut impl Write) -> io::Result<()> {
        let account = self.account;
        let told = wording::shortage_told(account);
        writeln!(
            out,
            "<section class=\"answer\" aria-label=\"The answer\"><p>May the job start?</p>\n\
             <p><strong>{}</strong></p>\n<p>{}</p>\n<p>{}</p></section>",
            escaped(wording::verdict(account.verdict)),
            escaped(&wording::stop(self.job, account)),
            escaped(&told)
        )?;
        bullets(
            out,
            account
                .reasons
                .iter()
                .cloned()
                .chain(wording::whole_kits(self.job, account))
                .chain(wording::filled(account)),
        )
    }

    /// Where there are several parcels: what each brought, and what it closed of the claim.
    fn parcels(&self, out: &mut impl Write) -> io::Result<()> {
        let sentences = wording::parcels(self.lists, self.account);
        if sentences.is_empty() {
            return Ok(());
        }
        out.write_all(b"<section id=\"parcels\"><h2>Parcels</h2>\n")?;
        bullets(out, sentences.into_iter())?;
        out.write_all(b"</section>\n")
    }

    fn missing(&self, out: &mut impl Write) -> io::Result<()> {
        out.write_all(b"<section id=\"missing\"><h2>What is missing</h2>\n")?;
        let entries = shortages::entries(self.account);
        let (short, other): (Vec<_>, Vec<_>) = entries.iter().partition(|e| e.share.is_some());
        match short.is_empty() {
            true => out.write_all(b"<p>Nothing is known to be short.</p>\n")?,
            false => self.entries(&short, out)?,
        }
        if !other.is_empty() {
            out.write_all(b"<h3>Also found, of items that are not short</h3>\n")?;
            self.entries(&other, out)?;
        }
        out.write_all(b"</section>\n")
    }

    /// A table of items with what was found out about them.
    fn entries(&self, entries: &[&Entry<'_>], out: &mut impl Write) -> io::Result<()> {
        out.write_all(
            b"<table><thead><tr><th scope=\"col\">Item</th><th scope=\"col\" class=\"n\">Required</th>\
              <th scope=\"col\" class=\"n\">Short</th></tr></thead><tbody>\n",
        )?;
        for Entry { item, share } in entries.iter().copied().take(MOST) {
            out.write_all(b"<tr><td>")?;
            if let Some(share) = share {
                let stage = wording::stage_name(self.account, share.stage);
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
            let sources = wording::sources_of(self.lists, item);
            for words in found.lines().chain([sources.as_str()]) {
                write!(out, "<span class=\"quiet\">{}</span>", escaped(words))?;
            }
            let (required, short) = match share {
                Some(share) => (share.required, share.short),
                None => (item.sums.required, 0),
            };
            let short = wording::known_short(item, short)
                .map_or(wording::CANNOT_SAY.to_owned(), |pieces| pieces.to_string());
            writeln!(
                out,
                "</td><td class=\"n\">{required}</td><td class=\"n\"><strong>{short}</strong></td></tr>"
            )?;
        }
        out.write_all(b"</tbody></table>\n")?;
        more(out, entries.len())
    }

    fn stages(&self, out: &mut impl Write) -> io::Result<()> {
        let account = self.account;
        out.write_all(b"<section id=\"stages\"><h2>By stage</h2>\n")?;
        let places = wording::Places::of(self.layout);
        let entries = by_stage::entries(account);
        for (index, stage) in account.stages.iter().enumerate() {
            writeln!(
                out,
                "<h3><span class=\"band\" style=\"{}\">{}</span> {}: {}</h3>",
                band(index),
                index + 1,
                escaped(wording::stage_name(account, index)),
                match (stage.ready, wording::stage_short(account, index)) {
                    (Verdict::No, short @ 1..) => {
                        format!("{}, {}", State::Short, crate::words::count(short, "piece"))
                    }
                    (ready, _) => wording::readiness(ready).to_owned(),
                }
            )?;
            if stage.ready == Verdict::CannotSay {
                let why = stage.reasons.join("; ");
                writeln!(out, "<p class=\"quiet\">{}</p>", escaped(&why))?;
            }
            let of_stage: Vec<_> = entries.iter().filter(|(_, s)| s.stage == index).collect();
            if of_stage.is_empty() {
                out.write_all(b"<p>Needs nothing.</p>\n")?;
                continue;
            }
            out.write_all(
                b"<table><thead><tr><th scope=\"col\">Item</th><th scope=\"col\" class=\"n\">Required</th>\
                  <th scope=\"col\" class=\"n\">Covered</th></tr></thead><tbody>\n",
            )?;
            for (item, share) in of_stage.iter().copied().take(MOST) {
                let account = &account.items[*item];
                let mut about = State::of(account, share).as_str().to_owned();
                let bins = places.named(*item, index);
                if !bins.is_empty() {
                    about.push_str(&format!(" \u{b7} bin {bins}"));
                }
                if !account.bags.is_empty() {
                    let bags = wording::bags("bag", &account.bags.join(", "));
                    about.push_str(&format!(" \u{b7} {bags}"));
                }
                for draw in wording::draws(account, share.stage) {
                    about.push_str(&format!(" \u{b7} {draw}"));
                }
                for words in wording::stand_ins(self.job, account, index) {
                    about.push_str(&format!(" \u{b7} {words}"));
                }
                writeln!(
                    out,
                    "<tr><td>{}<span class=\"quiet\">{}</span></td><td class=\"n\">{}</td>\
                     <td class=\"n\">{}</td></tr>",
                    escaped(&account.text),
                    escaped(&about),
                    share.required,
                    share.required - share.short
                )?;
            }
            out.write_all(b"</tbody></table>\n")?;
            more(out, of_stage.len())?;
        }
        out.write_all(b"</section>\n")
    }

    /// What is left when the build is done.
    fn left_over(&self, out: &mut impl Write) -> io::Result<()> {
        let Some(left) = &self.account.left_over else {
            return Ok(());
        };
        out.write_all(b"<section id=\"left\"><h2>Left over when the build is done</h2>\n")?;
        let words = left.iter().take(MOST).map(|of| {
            let found = match of.found {
                Some(found) => format!("{found} found"),
                None => wording::NOT_COUNTED.to_owned(),
            };
            format!(
                "{}: {found}, {} expected. {}",
                of.text,
                of.expected,
                wording::left_over(self.account, of)
            )
        });
        bullets(out, words)?;
        more(out, left.len())?;
        out.write_all(b"</section>\n")
    }

    /// What the stock lent, and what is still to be bought.
    fn stock(&self, out: &mut impl Write) -> io::Result<()> {
        let account = self.account;
        let Some(lent) = &account.put_back else {
            return Ok(());
        };
        out.write_all(b"<section id=\"stock\"><h2>From stock, to be put back</h2>\n")?;
        let table = |out: &mut _, rows: &[(&str, String, String)]| -> io::Result<()> {
            let out: &mut dyn Write = out;
            if rows.is_empty() {
                return out.write_all(b"<p>Nothing.</p>\n");
            }
            out.write_all(
                b"<table><thead><tr><th scope=\"col\">Item</th>\
                  <th scope=\"col\" class=\"n\">Pieces</th></tr></thead><tbody>\n",
            )?;
            for (text, about, pieces) in rows.iter().take(MOST) {
                writeln!(
                    out,
                    "<tr><td>{}<span class=\"quiet\">{}</span></td><td class=\"n\">{}</td></tr>",
                    escaped(text),
                    escaped(about),
                    escaped(pieces)
                )?;
            }
            out.write_all(b"</tbody></table>\n")
        };
        let rows: Vec<_> = lent
            .iter()
            .map(|lent| {
                let mut about = wording::to_stages(account, &lent.stages);
                if !lent.bins.is_empty() {
                    about.push_str(&format!(" \u{b7} from {}", lent.bins.join(", ")));
                }
                (lent.text.as_str(), about, lent.pieces.to_string())
            })
            .collect();
        table(out, &rows)?;
        more(out, rows.len())?;
        out.write_all(b"<h2>To buy</h2>\n")?;
        let rows: Vec<_> = account
            .to_buy
            .iter()
            .map(|buy| {
                let item = &account.items[buy.item];
                (
                    item.text.as_str(),
                    wording::to_buy(buy),
                    buy.pieces().to_string(),
                )
            })
            .collect();
        table(out, &rows)?;
        more(out, rows.len())?;
        out.write_all(b"</section>\n")
    }

    fn bins(&self, out: &mut impl Write) -> io::Result<()> {
        out.write_all(b"<section id=\"bins\"><h2>Bins</h2>\n")?;
        if self.layout.bins.is_empty() {
            return out.write_all(b"<p>No bins are laid out.</p></section>\n");
        }
        writeln!(
            out,
            "<p>A bin's address is tray, row letter, column number. {}</p>",
            escaped(&wording::apart(self.layout))
        )?;
        let map = BinMap::of(self.account, self.layout);
        for (number, tray) in (1..).zip(&self.layout.trays) {
            writeln!(
                out,
                "<h3>{}</h3>\n<ol class=\"tray\" style=\"--columns:{}\">",
                escaped(&wording::tray(self.layout, number as usize)),
                tray.columns
            )?;
            for row in 1..=tray.rows {
                for column in 1..=tray.columns {
                    let Some(bin) = map.at(number, row, column) else {
                        let letters = wording::row_letters(row);
                        writeln!(
                            out,
                            "<li class=\"empty\">{number}-{letters}{column} empty</li>"
                        )?;
                        continue;
                    };
                    let face = map.face(bin);
                    write!(
                        out,
                        "<li><div class=\"band\" style=\"{}\">{}</div><p class=\"size\">{}</p>\
                         <p>{}</p><p><strong>{}</strong></p>",
                        band(face.stage),
                        escaped(&face.band),
                        escaped(&face.size),
                        escaped(&face.kind),
                        escaped(&face.count)
                    )?;
                    for words in [&face.mark, &face.foot] {
                        if !words.is_empty() {
                            write!(out, "<p>{}</p>", escaped(words))?;
                        }
                    }
                    out.write_all(b"</li>\n")?;
                }
            }
            out.write_all(b"</ol>\n")?;
        }
        let neighbours = self.layout.neighbours.iter();
        let beside = self.layout.beside.iter();
        let notes = neighbours
            .map(|pair| wording::neighbours(self.account, self.layout, pair))
            .chain(
                beside.map(|b| format!("Beside the trays: {}", wording::beside(self.account, b))),
            );
        bullets(out, notes)?;
        out.write_all(b"</section>\n")
    }

    fn check(&self, out: &mut impl Write) -> io::Result<()> {
        out.write_all(b"<section id=\"check\" class=\"check\"><h2>Lines to check</h2>\n")?;
        let mut entries = check::entries(self.lists).peekable();
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
        if !self.audit.findings.is_empty() {
            out.write_all(b"<h3>Questions on the list itself, whatever was shipped</h3>\n")?;
            let findings = self.audit.findings.iter().take(MOST);
            bullets(out, findings.map(|f| wording::question(self.account, f)))?;
            more(out, self.audit.findings.len())?;
        }
        out.write_all(b"</section>\n")
    }
}

/// A list, or nothing where there is nothing to list.
fn bullets(out: &mut impl Write, lines: impl Iterator<Item = String>) -> io::Result<()> {
    let mut lines = lines.peekable();
    if lines.peek().is_none() {
        return Ok(());
    }
    out.write_all(b"<ul>\n")?;
    for line in lines {
        writeln!(out, "<li>{}</li>", escaped(&line))?;
    }
    out.write_all(b"</ul>\n")
}

/// Says how many of a list are left out, where any are.
fn more(out: &mut impl Write, in_all: usize) -> io::Result<()> {
    match in_all.checked_sub(MOST) {
        None | Some(0) => Ok(()),
        Some(left) => writeln!(out, "<p>And {left} more, in the workbook.</p>"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::fixture::{self, Fixture};

    fn page(f: &Fixture) -> String {
        let page = Page {
            job: &f.job,
            lists: &f.lists,
            account: &f.account,
            layout: &f.layout,
            audit: &f.audit,
            when: "2026-03-14 09:26".to_owned(),
        };
        let mut out = Vec::new();
        page.write(&mut out).unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn the_answer_comes_first() {
        let page = page(&fixture::footbridge());
        let answer = page.find("■ NO").unwrap();
        for later in [
            "id=\"missing\"",
            "id=\"stages\"",
            "id=\"bins\"",
            "id=\"check\"",
            "id=\"gauge\"",
        ] {
            assert!(answer < page.find(later).unwrap(), "{later}");
        }
        assert!(page.contains("The build stops at stage 2 of 3, Rails."));
        // Of 16 bolts 4 are short, of 24 in the whole job.
        assert!(page.contains("<td class=\"n\">16</td><td class=\"n\"><strong>4</strong></td>"));
        assert!(page.contains("in the whole job: required 24, shipped 24, counted 20"));
        let stages = &page[page.find("id=\"stages\"").unwrap()..];
        let covered = stages.split_once("<td class=\"n\">16</td>").unwrap().1;
        assert!(covered.trim_start().starts_with("<td class=\"n\">12</td>"));
        for caution in wording::CAUTIONS {
            assert!(page.contains(&escaped(caution).to_string()), "{caution}");
        }
    }

    /// Nothing is fetched and nothing runs.
    #[test]
    fn the_page_stands_by_itself() {
        let page = page(&fixture::footbridge());
        for outward in [
            "<script", "http:", "https:", "src=", "url(", "@import", "<link",
        ] {
            assert!(!page.contains(outward), "{outward}");
        }
    }

    #[test]
    fn input_never_becomes_markup() {
        let payload = "<script>alert(\"1\")</script>&amp;'\u{0}";
        let mut f = fixture::footbridge();
        f.job.name = payload.to_owned();
        f.account.reasons = vec![payload.to_owned()];
        f.account.stages[1].name = payload.to_owned();
        let item = &mut f.account.items[0];
        (item.text, item.bags) = (payload.to_owned(), vec![payload.into()]);
        item.findings[0].note = payload.to_owned();
        f.lists[0].file = payload.to_owned();
        let list = &mut f.lists[0];
        list.lines[4].text = list.text.push(payload);
        let page = page(&f);
        assert!(!page.contains("<script"));
        assert!(!page.contains('\u{0}'));
        assert!(
            page.matches("&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt;&amp;amp;&#39;")
                .count()
                > 6
        );
    }

    /// A 1/2 x 6 hex bolt: 152.4 mm under a head 11/32 in high, 3/4 in across (ASME B18.2.1).
    #[test]
    fn bolts_are_drawn_at_their_size() {
        let page = page(&fixture::footbridge());
        assert!(page.contains("width=\"180.00mm\""));
        assert!(page.contains("x=\"8.733\" y=\"3.675\" width=\"152.400\" height=\"12.700\""));
        assert!(page.contains("width=\"8.733\" height=\"19.050\""));
    }
}
