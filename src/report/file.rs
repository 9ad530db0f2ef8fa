//! Writing a file whole or not at all.

use std::{
    fs::{self, File},
    io,
    path::{Path, PathBuf},
    process,
    sync::{Mutex, MutexGuard, Once, PoisonError},
};

use crate::{Error, Result};

fn error(path: &Path, found: impl Into<String>, todo: impl Into<String>) -> Error {
    Error::Output {
        path: path.to_owned(),
        found: found.into(),
        todo: todo.into(),
    }
}

/// The folder that a path stands in.
fn folder(path: &Path) -> PathBuf {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// The temporary files that are being written, for an interrupt to remove.
static UNDER_WAY: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

/// The exit code of a run that was interrupted, as shells have it.
const INTERRUPTED: i32 = 130;

fn under_way() -> MutexGuard<'static, Vec<PathBuf>> {
    UNDER_WAY.lock().unwrap_or_else(PoisonError::into_inner)
}

/// From here on, Ctrl-C, a closed terminal and a polite kill remove what is half written before the
/// run ends. While the list is held no file is begun and none takes its place.
fn clear_up_on_interrupt() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        // Where the system allows no handler, an interrupt leaves the temporary file behind: the old
        // file is whole all the same.
        let _ = ctrlc::set_handler(|| {
            let files = under_way();
            for file in files.iter() {
                let _ = fs::remove_file(file);
            }
            process::exit(INTERRUPTED);
        });
    });
}

/// A temporary file's place in the list.
struct Listed(PathBuf);

impl Drop for Listed {
    fn drop(&mut self) {
        under_way().retain(|path| *path != self.0);
    }
}

/// Refuses a path that cannot be written, as far as can be told beforehand.
pub fn check_path(path: &Path, force: bool) -> Result<()> {
    if path.is_dir() {
        return Err(error(
            path,
            "this is a folder",
            "name a file in it, such as report.xlsx",
        ));
    }
    if path.metadata().is_ok_and(|found| !found.is_file()) {
        return Err(error(
            path,
            "this is no ordinary file",
            "name a file to write, such as report.xlsx",
        ));
    }
    if !force && path.symlink_metadata().is_ok() {
        return Err(exists(path));
    }
    if !folder(path).is_dir() {
        return Err(error(
            path,
            "there is no such folder to write to",
            "make the folder first, or name another",
        ));
    }
    Ok(())
}

/// Refuses a name that says another kind of file than is written; `endings`, the first of them told.
pub fn check_ending(path: &Path, what: &str, endings: &[&str]) -> Result<()> {
    let ending = path.extension().unwrap_or_default();
    if endings.iter().any(|of| ending.eq_ignore_ascii_case(of)) {
        return Ok(());
    }
    Err(error(
        path,
        format!("{what} is written here, and this name does not say so"),
        format!("end the name in .{}", endings[0]),
    ))
}

fn exists(path: &Path) -> Error {
    error(
        path,
        "the file is there already",
        "give --force to replace it, or name another file",
    )
}

/// Makes other runs that hold the folder of a path wait until this is dropped, so that none adds to what it read
/// before. `None` where the system locks no folders.
pub fn hold_folder(path: &Path) -> Option<File> {
    let folder = File::open(folder(path)).ok()?;
    folder.lock().ok()?;
    Some(folder)
}

/// Fills a temporary file in the same folder, then renames it to `path`. Where anything fails the
/// temporary file is removed and what stood at `path` stays as it was.
pub fn replace(
    path: &Path,
    force: bool,
    fill: impl FnOnce(&mut File) -> io::Result<()>,
) -> Result<()> {
    check_path(path, force)?;
    let cannot = |e: io::Error| {
        error(
            path,
            format!("the file cannot be written: {e}"),
            "check that the folder can be written to and has room, or name another",
        )
    };
    let mut builder = tempfile::Builder::new();
    builder.prefix(".tallybin-").suffix(".tmp");
    #[cfg(unix)]
    {
        // As any new file: the user's mask takes its part off.
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    clear_up_on_interrupt();
    let mut files = under_way();
    let made = builder.tempfile_in(folder(path));
    // Its error names the temporary file, which nobody knows.
    let mut file = made.map_err(|e| match e.kind() {
        io::ErrorKind::NotFound => error(
            path,
            "no file can be made in this folder",
            "name a file in another folder",
        ),
        kind => cannot(kind.into()),
    })?;
    files.push(file.path().to_owned());
    let _listed = Listed(file.path().to_owned());
    drop(files);
    fill(file.as_file_mut()).map_err(cannot)?;
    file.as_file().sync_all().map_err(cannot)?;
    let files = under_way();
    let renamed = match force {
        true => file.persist(path),
        false => file.persist_noclobber(path),
    };
    drop(files);
    match renamed {
        Ok(_) => Ok(()),
        Err(e) if e.error.kind() == io::ErrorKind::AlreadyExists => Err(exists(path)),
        Err(e) => Err(cannot(e.error)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;

    fn hello(out: &mut File) -> io::Result<()> {
        out.write_all(b"new")
    }

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .unwrap()
            .map(|e| e.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_new_file_is_written() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.xlsx");
        replace(&path, false, hello).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"new");
        assert_eq!(names(folder.path()), ["a.xlsx"]);
    }

    #[test]
    fn an_old_file_wants_force() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.xlsx");
        fs::write(&path, "old").unwrap();
        let refused = replace(&path, false, hello).unwrap_err().to_string();
        assert_eq!(
            refused,
            format!(
                "{}: the file is there already\n  what to do: give --force to replace it, or name another file",
                path.display()
            )
        );
        assert_eq!(fs::read(&path).unwrap(), b"old");
        replace(&path, true, hello).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"new");
    }

    #[test]
    fn a_failed_run_leaves_the_old_file_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.xlsx");
        fs::write(&path, "old").unwrap();
        let failed = replace(&path, true, |out| {
            out.write_all(b"half")?;
            Err(io::Error::other("disk full"))
        });
        let message = failed.unwrap_err().to_string();
        assert!(
            message.contains("cannot be written: disk full"),
            "{message}"
        );
        assert_eq!(fs::read(&path).unwrap(), b"old");
        assert_eq!(names(folder.path()), ["a.xlsx"]);
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_folder_that_takes_no_file_is_told_by_the_path_given() {
        let failed = replace(Path::new("/proc/a.xlsx"), false, hello);
        let message = failed.unwrap_err().to_string();
        let line = message.lines().next().unwrap_or_default();
        assert_eq!(line, "/proc/a.xlsx: no file can be made in this folder");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_replaced_and_what_it_leads_to_stays() {
        let folder = tempfile::tempdir().unwrap();
        let (path, other) = (folder.path().join("a.xlsx"), folder.path().join("b.xlsx"));
        fs::write(&other, "old").unwrap();
        std::os::unix::fs::symlink(&other, &path).unwrap();
        let message = replace(&path, false, hello).unwrap_err().to_string();
        assert!(message.contains("the file is there already"), "{message}");
        replace(&path, true, hello).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"new");
        assert_eq!(fs::read(&other).unwrap(), b"old");
        // A link that leads nowhere is a file that is there.
        let lost = folder.path().join("c.xlsx");
        std::os::unix::fs::symlink(folder.path().join("none"), &lost).unwrap();
        let message = replace(&lost, false, hello).unwrap_err().to_string();
        assert!(message.contains("the file is there already"), "{message}");
    }

    #[cfg(unix)]
    #[test]
    fn devices_are_refused() {
        let message = replace(Path::new("/dev/null"), true, hello)
            .unwrap_err()
            .to_string();
        assert_eq!(
            message,
            "/dev/null: this is no ordinary file\n  what to do: name a file to write, such as report.xlsx"
        );
    }

    #[test]
    fn folders_are_refused() {
        let folder = tempfile::tempdir().unwrap();
        let message = replace(folder.path(), true, hello).unwrap_err().to_string();
        assert!(message.contains("this is a folder"), "{message}");
        let missing = folder.path().join("none").join("a.xlsx");
        let message = replace(&missing, true, hello).unwrap_err().to_string();
        assert!(message.contains("no such folder"), "{message}");
    }
}
