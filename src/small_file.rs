//! Files beside the lists, which come from strangers as they do: job files, kept weights.

use std::{
    fs::File,
    io::{self, ErrorKind, Read},
    path::Path,
};

/// Bytes of one; the largest kits need some thousands.
const MOST_BYTES: u64 = 4 << 20;

/// Reads a file, of a pipe or device no more than a file may hold.
///
/// # Errors
/// A file that cannot be read; [`ErrorKind::FileTooLarge`].
pub fn read(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    File::open(path)?
        .take(MOST_BYTES + 1)
        .read_to_end(&mut bytes)?;
    match bytes.len() as u64 > MOST_BYTES {
        true => Err(ErrorKind::FileTooLarge.into()),
        false => Ok(bytes),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn as_much_as_it_may_hold() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("job.toml");
        for (more, read_whole) in [(0, true), (1, false)] {
            let file = File::create(&path).unwrap();
            file.set_len(MOST_BYTES + more).unwrap();
            let kind = read(&path).map_err(|error| error.kind());
            match read_whole {
                true => assert_eq!(kind.map(|bytes| bytes.len() as u64), Ok(MOST_BYTES)),
                false => assert_eq!(kind, Err(ErrorKind::FileTooLarge)),
            }
        }
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_device_without_end() {
        let kind = read("/dev/zero".as_ref()).map_err(|error| error.kind());
        assert_eq!(kind, Err(ErrorKind::FileTooLarge));
    }
}
