//! A file that is written to the end, whatever fails: a zip writer that meets an error prints a line of its own when it
//! is dropped.

use std::{
    fs::File,
    io::{self, Seek, SeekFrom, Write},
};

/// Keeps the first error, and takes all that is written behind it as if it were written.
pub struct Patient<'a> {
    file: &'a mut File,
    at: u64,
    end: u64,
    pub failed: Option<io::Error>,
}

impl<'a> Patient<'a> {
    pub fn of(file: &'a mut File) -> Patient<'a> {
        Patient {
            file,
            at: 0,
            end: 0,
            failed: None,
        }
    }

    fn keep(&mut self, done: io::Result<()>) {
        if let Err(error) = done {
            self.failed.get_or_insert(error);
        }
    }
}

impl Write for Patient<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.failed.is_none() {
            let done = self.file.write_all(bytes);
            self.keep(done);
        }
        self.at += bytes.len() as u64;
        self.end = self.end.max(self.at);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        if self.failed.is_none() {
            let done = self.file.flush();
            self.keep(done);
        }
        Ok(())
    }
}

impl Seek for Patient<'_> {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        let at = match to {
            SeekFrom::Start(at) => Some(at),
            SeekFrom::Current(by) => self.at.checked_add_signed(by),
            SeekFrom::End(by) => self.end.checked_add_signed(by),
        };
        self.at = at.ok_or(io::ErrorKind::InvalidInput)?;
        if self.failed.is_none() {
            let done = self.file.seek(SeekFrom::Start(self.at)).map(drop);
            self.keep(done);
        }
        Ok(self.at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_error_is_kept_and_the_rest_goes_on() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a");
        std::fs::write(&path, "old").unwrap();
        // Opened to be read alone, so that nothing can be written.
        let mut file = File::open(&path).unwrap();
        let mut out = Patient::of(&mut file);
        assert_eq!(out.write(b"PK..").unwrap(), 4);
        assert!(out.failed.is_some());
        assert_eq!(out.seek(SeekFrom::Current(-2)).unwrap(), 2);
        assert_eq!(out.write(b"more").unwrap(), 4);
        assert_eq!(out.seek(SeekFrom::End(0)).unwrap(), 6);
        out.flush().unwrap();
        assert_eq!(std::fs::read(&path).unwrap(), b"old");
    }

    #[test]
    fn what_is_written_stands_in_the_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a");
        let mut file = File::create(&path).unwrap();
        let mut out = Patient::of(&mut file);
        out.write_all(b"PK..").unwrap();
        out.seek(SeekFrom::Start(2)).unwrap();
        out.write_all(b"ab").unwrap();
        assert!(out.failed.is_none());
        assert_eq!(std::fs::read(&path).unwrap(), b"PKab");
    }
}
