//! A first job file, drafted from the lists: what each file is, and what there is to settle in it.

use std::{fmt::Write, path::Path};

use indexmap::IndexMap;

use super::{input::Input, list::List, number, role::Role, substitute};
use crate::{
    Result,
    columns::{Layout, Meaning, furniture},
    source::Document,
    weigh,
    words::{count, fold},
};

/// Rows at the head of a sheet that are looked at.
const HEAD: usize = 60;
/// Rows of a title.
const TITLE: usize = 10;

/// The title of a claim, and what a verdict begins with: by these a file of our own is told from a list.
pub const CLAIM: &str = "Claim for missing and damaged pieces";
pub const VERDICT: &str = "May the job start?";

/// What a file seems to be, and by what.
pub struct Guess {
    pub role: Role,
    pub by: String,
    /// Something in the file says so.
    pub sure: bool,
}

impl Guess {
    fn of(role: Role, by: String) -> Guess {
        Guess {
            role,
            by,
            sure: true,
        }
    }
}

/// Beside what is surely required, a list that says nothing of itself is rather a count.
pub fn settle_guesses(guesses: &mut [Guess]) {
    let told = |of: &Guess| of.sure && of.role == Role::Required;
    if guesses.iter().any(told) {
        for guess in guesses.iter_mut().filter(|guess| !guess.sure) {
            guess.role = Role::Counted;
            guess.by = "nothing in it says what it is: a count?".to_owned();
        }
    }
}

/// Tables that a job is told by, which are no lists: key of the job file, what it is, files.
pub struct Tables {
    of: [(&'static str, &'static str, Vec<String>); 2],
    weights: Option<String>,
    /// Claims, verdicts and pages, which are no lists.
    written: Vec<String>,
}

impl Tables {
    /// Takes the tables out of the files given.
    pub fn take(inputs: &mut Vec<Input>) -> Tables {
        let mut tables = Tables {
            of: [
                (
                    "substitutes",
                    "what may be used in place of what",
                    Vec::new(),
                ),
                ("numbers", "what maker's numbers stand for", Vec::new()),
            ],
            weights: None,
            written: Vec::new(),
        };
        inputs.retain(|input| {
            let shown = input.shown.clone();
            if substitute::is_table(input) {
                tables.of[0].2.push(shown);
            } else if number::is_table(input) {
                tables.of[1].2.push(shown);
            } else if tables.weights.is_none()
                && weigh::kept::PieceWeights::read(&input.path).is_ok()
            {
                tables.weights = Some(shown);
            } else if is_written(input) {
                tables.written.push(shown);
            } else {
                return true;
            }
            false
        });
        tables
    }
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

/// Words of a title by which parts were counted.
const COUNTS: &[&str] = &["found", "checked", "counted", "count", "recount", "tally"];

/// What stands at the head of a file's sheets.
struct Heads {
    layouts: Vec<Layout>,
    title: String,
}

impl Heads {
    fn of(input: &Input) -> Result<Heads> {
        let mut document = Document::open(&input.path, &input.limits)?;
        let mut layouts = Vec::new();
        let mut title = String::new();
        for sheet in 0..document.sheets().len() {
            if document.sheets()[sheet].hidden {
                continue;
            }
            let head = document.first_rows(sheet, HEAD)?;
            layouts.extend(head.iter().enumerate().find_map(|(at, row)| {
                Layout::of(row, None, &input.columns)
                    .or_else(|| Layout::of(row, head.get(at + 1), &input.columns))
            }));
            for row in head.iter().take(TITLE) {
                for (text, _) in row.cells() {
                    title.push_str(text);
                    title.push(' ');
                }
            }
        }
        Ok(Heads { layouts, title })
    }
}

/// True for a claim, a verdict or a page of ours, and no report whose Count sheet may be filled in.
fn is_written(input: &Input) -> bool {
    Heads::of(input).is_ok_and(|Heads { layouts, title }| {
        !layouts.iter().any(Layout::is_count_sheet)
            && [CLAIM, VERDICT, "<!DOCTYPE html>"]
                .iter()
                .any(|said| title.contains(said))
    })
}

/// True for a file that has a column of figures for each of two roles, as dealers keep them: `Qty required |
/// Qty supplied`.
///
/// # Errors
/// A file that cannot be opened.
pub fn serves_both(input: &Input, roles: [Role; 2]) -> Result<bool> {
    let own = |role| -> &[Meaning] {
        match role {
            Role::Required => &[Meaning::Quantity, Meaning::Ordered],
            Role::Shipped => &[Meaning::Shipped],
            Role::Counted => &[Meaning::Good],
            Role::Compared | Role::Stock | Role::LeftOver => &[],
        }
    };
    let layouts = Heads::of(input)?.layouts;
    let has = |layout: &Layout, role| own(role).iter().any(|of| layout.has(*of));
    Ok(roles[0] != roles[1]
        && !layouts.is_empty()
        && (layouts.iter()).all(|layout| roles.into_iter().all(|role| has(layout, role))))
}

/// Guesses what a file is: by its columns, its title, its name.
///
/// # Errors
/// A file that cannot be opened.
pub fn guess(input: &Input) -> Result<Guess> {
    if weigh::sheet::find(&input.path, &input.limits)?.is_some() {
        let by = "by its headings: a sheet of weighings".to_owned();
        return Ok(Guess::of(Role::Counted, by));
    }
    let Heads { layouts, title } = Heads::of(input)?;
    let by_columns = |of: &[(Role, &[Meaning], &str)]| {
        let has = |all: &[Meaning]| layouts.iter().any(|l| all.iter().any(|m| l.has(*m)));
        let found = of.iter().find(|(_, meanings, _)| has(meanings));
        found.map(|(role, _, by)| Guess::of(*role, format!("by {by}")))
    };
    let by_words = |text: &str, what: &str| {
        let words: Vec<String> = text
            .split(|c: char| !c.is_alphabetic())
            .map(str::to_lowercase)
            .collect();
        // The word that stands first says what the list is; `PARTS LIST REV` stands below it on a slip.
        // `Packed in`: in which bag.
        let holds = |at: usize| words.get(at + 1).is_some_and(|next| next == "in");
        let mut told = words.iter().enumerate().filter(|(at, _)| !holds(*at));
        let found = told.find_map(|(at, word)| {
            let (role, _) = WORDS
                .iter()
                .find(|(_, known)| known.contains(&word.as_str()))?;
            Some((*role, at))
        });
        // `Parts found`, `Checked the kit parts`: but for `parts list` the word says what is told of, and not what it is.
        let found = match found {
            Some((Role::Required, at))
                if words[at] == "parts" && words.get(at + 1).is_none_or(|next| next != "list") =>
            {
                let counts = words
                    .iter()
                    .position(|word| COUNTS.contains(&word.as_str()));
                counts.map_or(found, |at| Some((Role::Counted, at)))
            }
            found => found,
        };
        let found = found.map(|(role, at)| (role, &words[at]));
        found.map(|(role, word)| Guess::of(role, format!("by the word \"{word}\" in its {what}")))
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
            sure: false,
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

/// What settling the lists for one kit finds out.
#[derive(Debug, Default)]
pub struct Found {
    /// Lines that join parts which may be the same by other words.
    pub names: Vec<String>,
    /// The slips list so many times what one kit takes.
    pub slip_times: Option<u64>,
}

/// The text of a job file for lists that were read, each with what it was taken for by what. `command`
/// is how to run it.
pub fn job_file(
    name: &str,
    command: &str,
    lists: &[(List, Guess)],
    tables: &Tables,
    found: &Found,
) -> String {
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
    for file in &tables.written {
        line(format!(
            "# {file} is left out: a claim, a verdict or a page is no list"
        ));
    }
    let times = found.slip_times.map_or_else(String::new, |times| {
        format!(": the slip lists {times} times what one takes")
    });
    line(format!(
        "kits = 1                       # how many are to be built{times}"
    ));
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
        let files = |of: &[&(List, Guess)]| array(of.iter().map(|(list, _)| list.file.as_str()));
        let told = |(_, guess): &&(List, Guess)| guess.sure || role == Role::Required;
        let (sure, open): (Vec<_>, Vec<_>) = of_role.iter().copied().partition(told);
        if !sure.is_empty() {
            line(format!("{key} = {}", files(&sure)));
        }
        if !open.is_empty() {
            line(format!("# {key} = {}", files(&open)));
        }
        if of_role.is_empty() {
            line(format!("# {key} = [\"...\"]"));
        }
        if role == Role::Required && of_role.len() > 1 {
            line("# The first is what is required, and the others are held against it. Where they add to".to_owned());
            line("# it instead, write required_adds.".to_owned());
            line("required_checks = true".to_owned());
            let revisions = of_role.iter().map(|(list, _)| list.revision.as_deref());
            if let ([(first, _), ..], Some(latest)) =
                (of_role.as_slice(), of_role[0].0.revision.as_ref())
                && revisions
                    .clone()
                    .any(|of| of.is_some_and(|of| of != latest))
            {
                line(format!(
                    "# {} is revision {latest}, the latest: leave the others out, unless they are to be compared.",
                    first.file
                ));
            }
        }
    }
    for (key, what, files) in tables.of.iter().filter(|(.., files)| !files.is_empty()) {
        line(format!("\n# {key}: {what}"));
        line(format!(
            "{key} = {}",
            array(files.iter().map(String::as_str))
        ));
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
                // Lines in an option's place are built without it.
                *options.entry(fold(&option.name)).or_default() += u64::from(option.with);
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
    // Their own numbers go before the order in which they are named.
    let numbers = stages.keys().map(|stage| furniture::number_of_stage(stage));
    if numbers.collect::<Option<Vec<_>>>().is_some() {
        stages.sort_by_cached_key(|stage, _| furniture::number_of_stage(stage));
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
    if let Some(file) = &tables.weights {
        line("\n[weights]".to_owned());
        line(format!("pieces = {}", quoted(file)));
    }
    if !found.names.is_empty() {
        line("\n# What a slip or a count calls otherwise: take away the # of those that are one part.".to_owned());
        line("# [names]".to_owned());
        for pair in &found.names {
            line(format!("# {pair}"));
        }
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
