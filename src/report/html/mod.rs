//! One page for phone and print, in one file: no scripts, nothing from the network.

mod bins;
mod check;
mod gauge;
mod left_over;
mod markup;
mod missing;
mod stages;
mod stock;
#[cfg(test)]
mod tests;
mod tools;

use std::{
    io::{self, BufWriter, Write},
    path::Path,
};

use super::{file, masses::Masses, wording};
use crate::{
    Result,
    audit::Audit,
    bins::Layout,
    kit::{Job, List},
    settle::Account,
};
use markup::{bullets, escaped};

const STYLE: &str = include_str!("page.css");

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

/// A section below the answer.
struct Section {
    id: &'static str,
    /// Its name in the contents.
    name: &'static str,
    heading: &'static str,
    /// Whether the job has it.
    there: fn(&Page<'_>) -> bool,
    write: fn(&Page<'_>, &mut dyn Write) -> io::Result<()>,
}

impl Section {
    const fn new(
        id: &'static str,
        name: &'static str,
        write: fn(&Page<'_>, &mut dyn Write) -> io::Result<()>,
    ) -> Section {
        Section {
            id,
            name,
            heading: name,
            there: |_| true,
            write,
        }
    }
}

const SECTIONS: [Section; 10] = [
    Section::new("missing", "What is missing", missing::write),
    Section {
        there: |page| !page.account.parcels.is_empty(),
        ..Section::new("parcels", "Parcels", parcels)
    },
    Section::new("stages", "By stage", stages::write),
    Section {
        heading: "From stock, to be put back",
        there: |page| page.account.put_back.is_some(),
        ..Section::new("stock", "From stock, to buy", stock::write)
    },
    Section {
        heading: "Left over when the build is done",
        there: |page| page.account.left_over.is_some(),
        ..Section::new("left", "Left over", left_over::write)
    },
    Section::new("bins", "Bins", bins::write),
    Section::new("tools", "Tools to bring", tools::write),
    Section::new("check", "Lines to check", check::write),
    Section::new("cautions", "Before you build", cautions),
    Section::new("gauge", "Length gauge", gauge::write),
];

impl Page<'_> {
    fn write(&self, out: &mut dyn Write) -> io::Result<()> {
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
        let sections = || SECTIONS.iter().filter(|section| (section.there)(self));
        out.write_all(b"<nav aria-label=\"On this page\"><ul>")?;
        for Section { id, name, .. } in sections() {
            write!(out, "<li><a href=\"#{id}\">{name}</a></li>")?;
        }
        out.write_all(b"</ul></nav>\n")?;
        for section in sections() {
            let (id, heading) = (section.id, section.heading);
            writeln!(out, "<section id=\"{id}\"><h2>{heading}</h2>")?;
            (section.write)(self, out)?;
            out.write_all(b"</section>\n")?;
        }
        out.write_all(b"</main>\n</body>\n</html>\n")
    }

    fn answer(&self, out: &mut dyn Write) -> io::Result<()> {
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
                .chain(wording::without_options(self.job, self.lists, account))
                .chain(wording::doubts_summed_up(account))
                .chain(wording::whole_kits(self.job, account))
                .chain(wording::filled(account)),
        )
    }
}

/// What each parcel brought, and what it closed of the claim.
fn parcels(page: &Page<'_>, out: &mut dyn Write) -> io::Result<()> {
    bullets(out, wording::parcels(page.lists, page.account).into_iter())
}

fn cautions(page: &Page<'_>, out: &mut dyn Write) -> io::Result<()> {
    let masses = Masses::of(page.job, page.lists, page.account);
    let lift = masses.largest_lift().to_owned();
    let cautions = wording::CAUTIONS.iter().map(ToString::to_string);
    bullets(out, std::iter::once(lift).chain(cautions))
}
