//! What is checked of a zip before a library opens it, so that a small file cannot ask for a large
//! memory: what it is, how much it holds once inflated, and the counts and repeats that it claims.
//!
//! Every part is looked at, whatever it is called, since a workbook may give its sheets any name. The
//! sheets of an xlsx are the bulk of it: they are held to the same bounds while they are read
//! ([`super::cut`]). All other XML is parsed by the library that the workbook reader itself uses, so
//! that both see the same.

use std::{
    collections::HashSet,
    fs::File,
    io::{BufRead, BufReader, Read},
    path::Path,
};

use quick_xml::events::Event;
use zip::ZipArchive;

use super::{
    SAVE_AS,
    broken::{Broken, DEEPEST, Found, damaged, own_entities, too_deep},
    displayed::{Displayed, Shown},
    formats::Formats,
    limits::{Limit, Limits},
    marks::{Comments, Struck},
    repeats::Repeats,
    tag_values::{number, text},
};
use crate::error::{At, Error, Result};

/// What kind of workbook a zip holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Package {
    Xlsx,
    Xlsb,
    Ods,
}

/// The sheets of an xlsx, which are still to be looked through, as they are read, and what a workbook tells beside its values.
pub struct Sheets {
    pub zip: Zip,
    /// The names of all parts, in small letters.
    pub names: Vec<String>,
    /// Which part each sheet is, in their order.
    pub parts: Vec<Option<usize>>,
    /// Bytes that all of them may come to, and that each came to.
    pub left: u64,
    pub unpacked: Vec<u64>,
    /// What is struck out in them.
    pub struck: Struck,
    pub told: Told,
    /// What the cells of an ods show, where that says more than their figures, sheet by sheet and row by row.
    pub shown: Vec<Shown>,
}

/// What an xlsx tells of its cells' values.
#[derive(Default)]
pub struct Told {
    pub formats: Formats,
    /// Its formulas are worked out whenever it is opened, so that what is stored for one may be the zero of a program
    /// that works none out (ECMA-376-1, 18.2.2: `fullCalcOnLoad`).
    pub is_worked_out_when_opened: bool,
}

pub type Zip = ZipArchive<BufReader<File>>;

/// Parts in a zip: a real workbook has some hundreds at most.
const MOST_PARTS: usize = 20_000;
/// Bytes that a tag takes with what stands in it, at the least: a part is no list of tags.
const A_TAG: u64 = 32;
/// What a reader takes to keep a text, however short.
const A_TEXT: u64 = 64;

/// Finds out which workbook a zip is, and checks what it would ask for.
///
/// # Errors
/// A zip that is cut short, that is no workbook, or that asks for more than a list can need.
pub fn check(path: &Path, limits: &Limits) -> Result<(Package, Sheets)> {
    let broken = |error: Broken| error.at(path, limits);
    let file = File::open(path).map_err(|error| broken(damaged(error)))?;
    let mut zip = ZipArchive::new(BufReader::new(file)).map_err(|error| broken(damaged(error)))?;
    let names = names(&mut zip).map_err(broken)?;
    let Some(package) = package(&names) else {
        let what = if names.iter().any(|name| name == "word/document.xml") {
            "a text document, not a list"
        } else {
            "a zip that is no workbook"
        };
        return Err(Error::input(At::file(path), what, SAVE_AS));
    };
    let mut told = Told::default();
    let sheets = match package {
        Package::Xlsx => sheets(&mut zip, &names, limits, &mut told).map_err(broken)?,
        Package::Xlsb | Package::Ods => Vec::new(),
    };
    let mut checking = Checking {
        package,
        limits,
        left: limits.most(Limit::Unpacked),
        struck: Struck::default(),
        told,
        shown: Vec::new(),
    };
    for (index, name) in names.iter().enumerate() {
        if !sheets.contains(&Some(index)) {
            checking.part(&mut zip, index, name).map_err(broken)?;
        }
    }
    let sheets = Sheets {
        zip,
        names,
        unpacked: vec![0; sheets.len()],
        parts: sheets,
        left: checking.left,
        struck: checking.struck,
        told: checking.told,
        shown: checking.shown,
    };
    Ok((package, sheets))
}

/// The names of the parts as a reader looks them up: in small letters, with forward slashes.
fn names(zip: &mut Zip) -> Found<Vec<String>> {
    if zip.len() > MOST_PARTS {
        return Err(damaged(format!("it has {} parts", zip.len())));
    }
    let twice = || damaged("two of its parts bear one name");
    if zip.has_duplicate_names() {
        return Err(twice());
    }
    let names: Vec<String> = (0..zip.len())
        .map(|index| {
            let part = zip.by_index(index).map_err(damaged)?;
            let name = part.name().map_err(damaged)?.replace('\\', "/");
            if name.split('/').any(|step| step == "..") {
                return Err(damaged(format!(
                    "its part \"{name}\" names a place outside of the workbook"
                )));
            }
            Ok(name.to_lowercase())
        })
        .collect::<Found<_>>()?;
    // A reader finds them whatever their case.
    let apart: HashSet<&String> = names.iter().collect();
    match apart.len() == names.len() {
        true => Ok(names),
        false => Err(twice()),
    }
}

fn package(names: &[String]) -> Option<Package> {
    let has = |name: &str| names.iter().any(|n| n == name);
    if has("xl/workbook.bin") {
        Some(Package::Xlsb)
    } else if has("content.xml") && has("mimetype") {
        Some(Package::Ods)
    } else if has("[content_types].xml")
        && names
            .iter()
            .any(|n| n.contains("workbook") && n.ends_with(".xml"))
    {
        Some(Package::Xlsx)
    } else {
        None
    }
}

/// A check under way.
struct Checking<'a> {
    package: Package,
    limits: &'a Limits,
    /// Bytes that the parts not yet inflated may come to.
    left: u64,
    struck: Struck,
    told: Told,
    shown: Vec<Shown>,
}

impl Checking<'_> {
    /// Looks through a part that a reader may hold in memory.
    fn part(&mut self, zip: &mut Zip, index: usize, name: &str) -> Found<()> {
        let streamed = self.package == Package::Ods && name == "content.xml";
        let most = match streamed {
            true => self.left,
            false => self.left.min(self.limits.most(Limit::Part)),
        };
        let limit = match most == self.left {
            true => Limit::Unpacked,
            false => Limit::Part,
        };
        let mut part = zip.by_index(index).map_err(damaged)?.take(most + 1);
        let is_xml = name.ends_with(".xml") || name.ends_with(".rels");
        if is_xml && self.package != Package::Xlsb {
            let mut watch = Watch::new(self.package, name, self.limits);
            let (struck, formats) = (&mut self.struck, &mut self.told.formats);
            let part_of = Part {
                input: BufReader::new(&mut part),
                name,
                most,
                limit,
            };
            xml(part_of, |event| watch.event(event, struck, formats))?;
            // What is not well formed is unpacked all the same.
            std::io::copy(&mut part, &mut std::io::sink()).map_err(damaged)?;
            self.left -= most - unpacked(most, &part, limit, name)?;
            self.shown.extend(watch.end(most + 1 - part.limit())?);
            Ok(())
        } else {
            std::io::copy(&mut part, &mut std::io::sink()).map_err(damaged)?;
            self.left -= most - unpacked(most, &part, limit, name)?;
            Ok(())
        }
    }
}

/// What is left of `most` bytes after a part was inflated.
fn unpacked<R>(most: u64, part: &std::io::Take<R>, limit: Limit, name: &str) -> Found<u64> {
    let length = most + 1 - part.limit();
    most.checked_sub(length)
        .ok_or_else(|| Broken::TooLarge(limit, format!("its part \"{name}\"")))
}

/// What is looked for in a part that is parsed.
enum Watch<'a> {
    Nothing,
    Styles,
    /// Texts that are shared by cells: how many are claimed, for which a reader reserves memory, and
    /// how many there are.
    Texts {
        claimed: u64,
        found: u64,
        limits: &'a Limits,
    },
    Repeats(Repeats<'a>, Displayed),
}

impl<'a> Watch<'a> {
    fn new(package: Package, name: &str, limits: &'a Limits) -> Watch<'a> {
        match package {
            Package::Ods if name == "content.xml" => {
                Watch::Repeats(Repeats::new(limits), Displayed::default())
            }
            Package::Xlsx if name.ends_with("sharedstrings.xml") => Watch::Texts {
                claimed: 0,
                found: 0,
                limits,
            },
            Package::Xlsx if name.ends_with("styles.xml") => Watch::Styles,
            _ => Watch::Nothing,
        }
    }

    fn event(
        &mut self,
        event: &Event<'_>,
        struck: &mut Struck,
        formats: &mut Formats,
    ) -> Found<()> {
        match self {
            Watch::Nothing => Ok(()),
            Watch::Styles => {
                formats.style(event)?;
                struck.style(event)
            }
            Watch::Texts {
                claimed,
                found,
                limits,
            } => {
                let Event::Start(tag) = event else {
                    return Ok(());
                };
                match tag.local_name().as_ref() {
                    "sst" => *claimed = number(tag, "uniqueCount")?.unwrap_or(0),
                    "si" => *found += 1,
                    _ => {}
                }
                struck.shared_text(tag)?;
                if *found * A_TEXT > limits.most(Limit::Part) {
                    return Err(Broken::TooLarge(Limit::Part, "its texts".to_owned()));
                }
                Ok(())
            }
            Watch::Repeats(repeats, displayed) => {
                repeats.event(event)?;
                displayed.event(event)
            }
        }
    }

    /// What the cells of an ods show, where that says more than their figures.
    fn end(self, length: u64) -> Found<Vec<Shown>> {
        match self {
            // A text takes five bytes at least: <si/>.
            Watch::Texts { claimed, .. } if claimed > length / 5 => Err(damaged(format!(
                "it claims to hold {claimed} texts, more than it has room for"
            ))),
            Watch::Repeats(_, displayed) => Ok(displayed.shown),
            _ => Ok(Vec::new()),
        }
    }
}

/// A part to be parsed.
struct Part<'a, R> {
    input: R,
    name: &'a str,
    /// Bytes that it may come to, and by which limit.
    most: u64,
    limit: Limit,
}

/// Parses XML as the readers of workbooks do, and hands on what comes by. Where it is not well
/// formed it ends, and so will the reader.
fn xml<R: BufRead>(part: Part<'_, R>, mut take: impl FnMut(&Event<'_>) -> Found<()>) -> Found<()> {
    let most_tags = part.most / A_TAG;
    let mut tags = 0;
    let mut reader = quick_xml::Reader::from_reader(part.input);
    let config = reader.config_mut();
    config.check_end_names = false;
    config.expand_empty_elements = true;
    let mut buffer = Vec::with_capacity(1024);
    let mut depth = 0usize;
    loop {
        buffer.clear();
        let event = match reader.read_event_into(&mut buffer) {
            Ok(event) => event,
            Err(quick_xml::Error::Io(error)) => return Err(damaged(error)),
            Err(_) => return Ok(()),
        };
        match &event {
            Event::Start(_) => {
                depth += 1;
                if depth > DEEPEST {
                    return Err(too_deep());
                }
                tags += 1;
                if tags > most_tags {
                    let what = format!("its part \"{}\"", part.name);
                    return Err(Broken::TooLarge(part.limit, what));
                }
            }
            Event::End(_) => depth = depth.saturating_sub(1),
            Event::DocType(_) => return Err(own_entities()),
            Event::Eof => return Ok(()),
            _ => {}
        }
        take(&event)?;
    }
}

/// Which parts the sheets of an xlsx are, in order, found as the reader finds them.
fn sheets(
    zip: &mut Zip,
    names: &[String],
    limits: &Limits,
    told: &mut Told,
) -> Found<Vec<Option<usize>>> {
    let most = limits.most(Limit::Part);
    let part = |wanted: &str| {
        let wanted = wanted.replace('\\', "/").to_lowercase();
        names.iter().position(|name| *name == wanted)
    };
    // ECMA-376-2: the relationships of the package name the workbook.
    let mut book = "xl/workbook.xml".to_owned();
    if let Some(package) = part("_rels/.rels") {
        xml(small(zip, package, &names[package], most)?, |event| {
            if let Event::Start(tag) = event
                && tag.local_name().as_ref() == "Relationship"
                && let Ok(Some(of)) = text(tag, "Type")
                && of.ends_with("/relationships/officeDocument")
                && let Some(target) = text(tag, "Target")?
            {
                book = target.trim_start_matches('/').to_owned();
            }
            Ok(())
        })?;
    }
    let (folder, file) = match book.rfind('/') {
        Some(slash) => book.split_at(slash + 1),
        None => ("", book.as_str()),
    };
    let Some(rels) = part(&format!("{folder}_rels/{file}.rels")) else {
        return Ok(Vec::new());
    };
    let Some(book) = part(&book) else {
        return Ok(Vec::new());
    };
    let mut targets: Vec<(String, Option<usize>)> = Vec::new();
    xml(small(zip, rels, &names[rels], most)?, |event| {
        if let Event::Start(tag) = event
            && tag.local_name().as_ref() == "Relationship"
            && let (Some(id), Some(target)) = (text(tag, "Id")?, text(tag, "Target")?)
        {
            let target = match target.strip_prefix('/') {
                Some(from_root) => part(from_root),
                None => part(&format!("{folder}{target}")),
            };
            targets.push((id, target));
        }
        Ok(())
    })?;
    let mut sheets = Vec::new();
    xml(small(zip, book, &names[book], most)?, |event| {
        let Event::Start(tag) = event else {
            return Ok(());
        };
        match tag.local_name().as_ref() {
            "sheet" => {
                let id = text(tag, "id")?;
                let target = targets
                    .iter()
                    .find(|(target, _)| Some(target) == id.as_ref());
                sheets.push(target.and_then(|(_, part)| *part));
            }
            "calcPr" => {
                let worked_out = text(tag, "fullCalcOnLoad")?;
                told.is_worked_out_when_opened =
                    matches!(worked_out.as_deref(), Some("1" | "true"));
            }
            _ => {}
        }
        Ok(())
    })?;
    let mut parts: Vec<usize> = sheets.iter().filter_map(|part| *part).collect();
    parts.sort_unstable();
    match parts.windows(2).find(|pair| pair[0] == pair[1]) {
        Some(twice) => Err(damaged(format!(
            "two of its sheets are one part, \"{}\"",
            names[twice[0]]
        ))),
        None => Ok(sheets),
    }
}

impl Sheets {
    /// The comments on the cells of a sheet, by the part that its relationships name.
    pub fn comments(&mut self, part: usize, limits: &Limits) -> Found<Comments> {
        let most = limits.most(Limit::Part);
        let mut comments = Comments::default();
        let name = &self.names[part];
        let (folder, file) = name.rsplit_once('/').unwrap_or(("", name));
        let rels = format!("{folder}/_rels/{file}.rels");
        let Some(rels) = self.names.iter().position(|name| *name == rels) else {
            return Ok(comments);
        };
        let mut target = None;
        let (zip, names) = (&mut self.zip, &self.names);
        xml(small(zip, rels, &names[rels], most)?, |event| {
            if let Event::Start(tag) = event
                && tag.local_name().as_ref() == "Relationship"
                && let Ok(Some(of)) = text(tag, "Type")
                && of.ends_with("/relationships/comments")
            {
                target = text(tag, "Target")?;
            }
            Ok(())
        })?;
        let target = target.unwrap_or_default().to_lowercase();
        let above = folder.rsplit_once('/').map_or("", |(above, _)| above);
        let target = match (target.strip_prefix('/'), target.strip_prefix("../")) {
            (Some(from_root), _) => from_root.to_owned(),
            (_, Some(from_above)) => format!("{above}/{from_above}"),
            _ => format!("{folder}/{target}"),
        };
        if let Some(part) = self.names.iter().position(|name| *name == target) {
            xml(small(zip, part, &names[part], most)?, |event| {
                comments.take(event)
            })?;
        }
        Ok(comments)
    }
}

/// A part that is held in memory, at most so many bytes of it.
fn small<'a>(
    zip: &'a mut Zip,
    index: usize,
    name: &'a str,
    most: u64,
) -> Found<Part<'a, impl BufRead + use<'a>>> {
    let part = zip.by_index(index).map_err(damaged)?;
    Ok(Part {
        input: BufReader::new(part.take(most)),
        name,
        most,
        limit: Limit::Part,
    })
}
