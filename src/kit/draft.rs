//! A first job file, drafted from the lists: what each file is, and what there is to settle in it.

use std::{fmt::Write, path::Path};

use indexmap::IndexMap;

use super::{input::Input, list::List, role::Role};
use crate::{
    Result,
    columns::{Layout, Meaning},
    source::Document,
    weigh,
    words::{count, fold},
};

/// Rows at the head of a sheet that are looked at.
const HEAD: usize = 60;
/// Rows of a title.
const TITLE: usize = 10;

/// What a file seems to be, and by what.
pub struct Guess {
    pub role: Role,
    pub by: String,
}

/// Headings that one kind of list alone has.
const COLUMNS: &[(Role, &[Meaning], &str)] = &[
    (
        Role::Counted,
        &[Meaning::Damaged, Meaning::CountedBy],
        "a column for what was counted",
    ),
    // `On hand` beside `Bin` is the shop's.
    (
        Role::Stock,
        &[Meaning::Bin],
        "a column for where it is kept",
    ),
    (
        Role::Counted,
        &[Meaning::Good],
        "a column for what was counted",
    ),
    (
        Role::Shipped,
        &[Meaning::Shipped, Meaning::BackOrdered],
        "a column for what was shipped",
    ),
];
/// The same, less surely: titles and names go before these.
const LIKELY: &[(Role, &[Meaning], &str)] = &[(
    Role::Required,
    &[
        Meaning::Stage,
        Meaning::Places,
        Meaning::Option,
        Meaning::Use,
    ],
    "a column for stages, places or options",
)];

/// Words of a title or a file's name.
const WORDS: &[(Role, &[&str])] = &[
    (
        Role::Shipped,
        &[
            "packing", "packed", "slip", "delivery", "despatch", "dispatch", "shipped", "shipment",
        ],
    ),
    (Role::LeftOver, &["leftover", "leftovers", "remaining"]),
    (Role::Counted, &["count", "counted", "tally"]),
    (Role::Stock, &["stock"]),
    (
        Role::Required,
        &[
            "parts",
            "bom",
            "materials",
            "assembly",
            "guide",
            "instructions",
            "manual",
            "required",
        ],
    ),
];

/// Guesses what a file is: by its columns, its title, its name.
///
/// # Errors
/// A file that cannot be opened.
pub fn guess(input: &Input) -> Result<Guess> {
    if weigh::sheet::find(&input.path, &input.limits)?.is_some() {
        return Ok(Guess {
            role: Role::Counted,
            by: "by its headings: a sheet of weighings".to_owned(),
        });
    }
    let mut document = Document::open(&input.path, &input.limits)?;
    let mut layouts = Vec::new();
    let mut title = String::new();
    for sheet in 0..document.sheets().len() {
        if document.sheets()[sheet].hidden {
            continue;
        }
        let head = document.first_rows(sheet, HEAD)?;
        let none = IndexMap::new();
        layouts.extend(head.iter().enumerate().find_map(|(at, row)| {
            Layout::of(row, None, &none).or_else(|| Layout::of(row, head.get(at + 1), &none))
        }));
        for row in head.iter().take(TITLE) {
            for (text, _) in row.cells() {
                title.push_str(text);
                title.push(' ');
            }
        }
    }
    let by_columns = |of: &[(Role, &[Meaning], &str)]| {
        let has = |all: &[Meaning]| layouts.iter().any(|l| all.iter().any(|m| l.has(*m)));
        let found = of.iter().find(|(_, meanings, _)| has(meanings));
        found.map(|(role, _, by)| Guess {
            role: *role,
            by: format!("by {by}"),
        })
    };
    let by_words = |text: &str, what: &str| {
        let words: Vec<String> = text
            .split(|c: char| !c.is_alphabetic())
            .map(str::to_lowercase)
            .collect();
        // The word that stands first says what the list is; `PARTS LIST REV` stands below it on a slip.
        let found = words.iter().find_map(|word| {
            let (role, _) = WORDS
                .iter()
                .find(|(_, known)| known.contains(&word.as_str()))?;
            Some((*role, word))
        });
        found.map(|(role, word)| Guess {
            role,
            by: format!("by the word \"{word}\" in its {what}"),
        })
    };
    let name = input.path.file_name().unwrap_or_default().to_string_lossy();
    let left_over = by_words(&name, "name").filter(|guess| guess.role == Role::LeftOver);
    Ok(left_over
        .or_else(|| by_columns(COLUMNS))
        .or_else(|| by_words(&title, "first rows"))
        .or_else(|| by_words(&name, "name"))
        .or_else(|| by_columns(LIKELY))
        .unwrap_or(Guess {
            role: Role::Required,
            by: "a guess: nothing in it says so".to_owned(),
        }))
}

/// A text as TOML writes it.
fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

fn array<'a>(texts: impl IntoIterator<Item = &'a str>) -> String {
    let all: Vec<String> = texts.into_iter().map(quoted).collect();
    format!("[{}]", all.join(", "))
}

/// The text of a job file for lists that were read, each with what it was taken for by what. `command`
/// is how to run it.
pub fn job_file(name: &str, command: &str, lists: &[(List, Guess)]) -> String {
    let mut text = String::new();
    let mut line = |words: String| {
        text.push_str(&words);
        text.push('\n');
    };
    line(
        "# Drafted from the lists themselves: read it through, and change what is wrong. Then"
            .to_owned(),
    );
    line(format!("#   {command}"));
    line(format!("name = {}", quoted(name)));
    line("kits = 1                       # how many are to be built".to_owned());
    for (role, key, what) in [
        (
            Role::Required,
            "required",
            "what the kit takes: the parts list, or the assembly guide",
        ),
        (Role::Shipped, "shipped", "what was sent: the packing slip"),
        (Role::Counted, "counted", "what is there: a bench count"),
        (Role::Stock, "stock", "what the shop has of its own"),
        (
            Role::LeftOver,
            "leftover",
            "what is left on the bench when the build is done",
        ),
    ] {
        let of_role: Vec<&(List, Guess)> = lists.iter().filter(|(l, _)| l.role == role).collect();
        if of_role.is_empty() && role == Role::LeftOver {
            continue;
        }
        line(format!("\n# {key}: {what}"));
        for (list, guess) in &of_role {
            line(format!("# {}: {}", list.file, guess.by));
            for note in notes(list) {
                line(format!("# {}: {note}", list.file));
            }
        }
        let files = array(of_role.iter().map(|(list, _)| list.file.as_str()));
        line(match of_role.is_empty() {
            true => format!("# {key} = [\"...\"]"),
            false => format!("{key} = {files}"),
        });
        if role == Role::Required && of_role.len() > 1 {
            line("# The first is what is required, and the others are held against it. Where they add to".to_owned());
            line("# it instead, write required_adds.".to_owned());
            line("required_checks = true".to_owned());
        }
    }
    let required = || {
        lists
            .iter()
            .map(|(list, _)| list)
            .filter(|l| l.role == Role::Required)
    };
    let mut options: IndexMap<String, u64> = IndexMap::new();
    let mut stages: IndexMap<String, String> = IndexMap::new();
    for list in required() {
        for line in &list.lines {
            let placement = list.placement_of(line);
            if let Some(option) = &placement.option {
                *options.entry(fold(&option.name)).or_default() += 1;
            }
            if let Some(stage) = &placement.stage {
                stages
                    .entry(fold(stage))
                    .or_insert_with(|| stage.trim().to_owned());
            }
        }
    }
    if !options.is_empty() {
        let told: Vec<String> = options
            .iter()
            .map(|(name, lines)| format!("{name} ({})", count(*lines, "line")))
            .collect();
        line(format!("\n# The lists have options: {}.", told.join(", ")));
        line("# Write those that are built into with, and leave the others in without.".to_owned());
        line("with = []".to_owned());
        line(format!(
            "without = {}",
            array(options.keys().map(String::as_str))
        ));
    }
    // Lists compared may name their stages otherwise.
    if !stages.is_empty() && required().count() == 1 {
        line("\n# The stages in the order in which the lists name them: change it where the build goes otherwise.".to_owned());
        line(format!(
            "stages = {}",
            array(stages.values().map(String::as_str))
        ));
        line("# built_through = \"...\"        # the last stage that is already built".to_owned());
    }
    text
}

/// What there is to settle in a list.
fn notes(list: &List) -> Vec<String> {
    let mut notes = Vec::new();
    let tally = &list.tally;
    if tally.check + tally.aside > 0 {
        let mut note = format!(
            "{} to check and {} aside: see tallybin read",
            count(tally.check, "line"),
            tally.aside
        );
        if list.from_sentences {
            note.push_str(", for sentences say less surely than a list what is required");
        }
        notes.push(note);
    }
    for sheet in &list.sheets {
        let name = sheet.name.as_deref().unwrap_or("the file");
        notes.extend(
            sheet
                .passed_over
                .as_ref()
                .map(|why| format!("sheet {name} is passed over: {why}")),
        );
        notes.extend(sheet.question.clone());
    }
    if !list.repeats.is_empty() {
        let mut keys = String::new();
        for (row, times) in &list.repeats {
            let sep = if keys.is_empty() { "" } else { ", " };
            let _ = write!(keys, "{sep}{row} = {times}");
        }
        notes.push(format!(
            "sentences repeat what stands before them. Once you have seen how often, write instead of the \
             name: {{ file = {}, repeats = {{ {keys} }} }}",
            quoted(&list.file)
        ));
    }
    notes
}

/// A file's path for a job file in `folder`: relative to it where it is below it, else in full.
pub fn path_from(folder: &Path, file: &Path) -> String {
    let full = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let (folder, file) = (full(folder), full(file));
    let path = file.strip_prefix(&folder).unwrap_or(&file);
    path.to_string_lossy().replace('\\', "/")
}
