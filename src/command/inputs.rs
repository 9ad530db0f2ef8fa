//! The lists of a run, read side by side.

use std::{
    fs::File,
    io::{self, BufRead, BufReader},
    path::{Path, PathBuf},
};

use rayon::prelude::*;

use super::progress::Progress;
use crate::{
    error::{At, Error, Result},
    kit::{Input, List, Role, draft},
    notation::{Known, Origin},
    settle::{
        ask_of_slips_given_twice, ask_of_titles, doubt_damaged, doubt_noted, doubt_strange_words,
        doubt_tails, know_bags, know_shared_marks, say_unsaid,
    },
};

/// Reads every list, as many at once as there are processors, in the order given.
///
/// # Errors
/// The same file named twice, or a copy of it; else the first list's error, in the order given.
pub fn read_all(inputs: &[(Role, &Input)], progress: &Progress) -> Result<Vec<List>> {
    refuse_twice(inputs)?;
    let lists: Vec<Result<List>> = inputs
        .par_iter()
        .with_max_len(1)
        .map(|&(role, input)| {
            List::read(input, input.shown.clone(), role, &|rows| {
                progress.rows(rows)
            })
        })
        .collect();
    let mut lists = lists.into_iter().collect::<Result<Vec<List>>>()?;
    weigh(&mut lists);
    know_shared_marks(&mut lists);
    know_bags(&mut lists);
    say_unsaid(&mut lists);
    doubt_strange_words(&mut lists);
    doubt_tails(&mut lists);
    doubt_noted(&mut lists);
    doubt_damaged(&mut lists);
    ask_of_titles(&mut lists);
    ask_of_slips_given_twice(&mut lists);
    Ok(lists)
}

/// Settles what slips, counts and guides leave open by the parts list beside them.
fn weigh(lists: &mut [List]) {
    let mut known = Known::default();
    for list in lists.iter().filter(|list| list.role == Role::Required) {
        list.sure_sizes(Origin::PartsList, &mut known);
    }
    for list in lists.iter_mut().filter(|list| list.role != Role::Required) {
        list.weigh(&known);
    }
}

/// One file may be named once only: a list given twice would be counted twice.
fn refuse_twice(inputs: &[(Role, &Input)]) -> Result<()> {
    let mut seen: Vec<(PathBuf, Role, &Input)> = Vec::new();
    for &(role, input) in inputs {
        // A file that cannot be found has its own message when it is opened.
        let Ok(real) = input.path.canonicalize() else {
            continue;
        };
        if let Some((_, before, _)) = seen.iter().find(|(path, ..)| *path == real) {
            if draft::serves_both(input, [*before, role])? {
                continue;
            }
            return Err(Error::input(
                At::file(&input.shown),
                format!("the same file is given twice, as {before} and as {role}"),
                "give each file once; a list is never counted twice, unless it has a column for each, \
                 headed such as \"Qty required\" and \"Qty supplied\"",
            ));
        }
        // Two deliveries may well hold the same, and a count what the slip says; the parts list is neither.
        let copy = seen.iter().find(|(path, before, of)| {
            let may_be_two = match *before == role {
                true => of.parcel != input.parcel,
                false => ![*before, role].contains(&Role::Required),
            };
            !may_be_two && same_content(path, &real)
        });
        if let Some((_, before, copy)) = copy
            && (*before == role || !draft::serves_both(input, [*before, role])?)
        {
            let given = match *before == role {
                true => format!("given as {role} too"),
                false => format!("given as {before}, and is given as {role}"),
            };
            return Err(Error::input(
                At::file(&input.shown),
                format!("holds the very same as {}, {given}", copy.shown),
                "give one of the two; a list is never counted twice",
            ));
        }
        seen.push((real, role, input));
    }
    Ok(())
}

/// True for two files that are the same byte for byte, and hold anything at all.
fn same_content(a: &Path, b: &Path) -> bool {
    let size = |path: &Path| path.metadata().ok().map(|of| of.len());
    size(a) == size(b)
        && size(a).is_some_and(|bytes| bytes > 0)
        && same_bytes(a, b).unwrap_or(false)
}

/// Compares two files piece by piece: a file may be of any length.
fn same_bytes(a: &Path, b: &Path) -> io::Result<bool> {
    let open = |path: &Path| File::open(path).map(BufReader::new);
    let (mut a, mut b) = (open(a)?, open(b)?);
    loop {
        let (one, other) = (a.fill_buf()?, b.fill_buf()?);
        let length = one.len().min(other.len());
        if length == 0 {
            return Ok(one.len() == other.len());
        }
        if one[..length] != other[..length] {
            return Ok(false);
        }
        a.consume(length);
        b.consume(length);
    }
}

/// Refuses an output that is one of the inputs.
///
/// # Errors
/// Where `output` is the same file as an input or the job file.
pub fn refuse_as_output<'a>(output: &Path, inputs: impl Iterator<Item = &'a Path>) -> Result<()> {
    let Ok(output_real) = output.canonicalize() else {
        return Ok(());
    };
    for input in inputs {
        if input.canonicalize().is_ok_and(|real| real == output_real) {
            return Err(Error::Output {
                path: output.to_owned(),
                found: "the output is also an input".to_owned(),
                todo: "name another file; inputs are never written over".to_owned(),
            });
        }
    }
    Ok(())
}

/// Refuses to write two outputs, each with its noun and its flag, to one file.
///
/// # Errors
/// Where two of them are the same file.
pub fn refuse_two_outputs(outputs: &[(&str, &str, Option<&Path>)]) -> Result<()> {
    // Neither need be there yet, but the folder that it goes to is.
    let place = |path: &Path| {
        let folder = path
            .parent()
            .filter(|folder| !folder.as_os_str().is_empty());
        let folder = folder.unwrap_or(Path::new(".")).canonicalize().ok()?;
        Some(folder.join(path.file_name()?))
    };
    let mut seen: Vec<(&str, &Path)> = Vec::new();
    for &(noun, flag, path) in outputs {
        let Some(path) = path else {
            continue;
        };
        let same = seen.iter().find(|(_, other)| {
            *other == path || place(other).is_some_and(|o| Some(o) == place(path))
        });
        if let Some((other, _)) = same {
            return Err(Error::Output {
                path: path.to_owned(),
                found: format!("the {other} and the {noun} are to be written to the same file"),
                todo: format!("name another file after {flag}"),
            });
        }
        seen.push((noun, path));
    }
    Ok(())
}
