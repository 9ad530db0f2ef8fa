//! The workbook as the library sees it: the parts of the file that were looked through, and in the
//! place of each sheet a stream of cells that are put to it one at a time.
//!
//! So a sheet is inflated once, and the library never meets a part, or a cell, that was not held to
//! its bounds before.

use std::{
    fs::File,
    io::{BufReader, Error, ErrorKind, Read, Result, Seek, SeekFrom},
    sync::{Arc, Mutex, PoisonError},
};

/// A part of the zip as its directory lists it.
pub struct Part {
    pub name: String,
    pub deflated: bool,
    pub crc: u32,
    pub packed: u32,
    pub unpacked: u32,
    /// Where its local header stands in the file.
    pub start: u32,
    pub is_sheet: bool,
}

/// A zip of which the sheets are fed. Layout: PKWARE's APPNOTE, 4.3.
pub struct Feed {
    file: BufReader<File>,
    length: u64,
    /// What is read behind the end of the file: the header of the sheets, a byte in the place of
    /// their data, a new directory.
    tail: Vec<u8>,
    at: u64,
    fed: Fed,
}

/// The header of the sheets: nothing of it is looked at but how long its name is, which is nothing.
const HEADER: [u8; 30] = {
    let mut header = [0; 30];
    (header[0], header[1], header[2], header[3]) = (b'P', b'K', 3, 4);
    header
};
/// What the data of a sheet may come to; `u32::MAX` itself has another meaning.
const ENDLESS: u32 = u32::MAX - 1;

impl Feed {
    /// `None` where the file is too long for its directory to be written anew.
    pub fn new(mut file: File, parts: &[Part], fed: Fed) -> Result<Option<Feed>> {
        let length = file.seek(SeekFrom::End(0))?;
        let mut tail = HEADER.to_vec();
        tail.push(0);
        let directory = tail.len();
        let Ok(sheets) = u32::try_from(length) else {
            return Ok(None);
        };
        for part in parts {
            let (method, crc, packed, unpacked, start) = match (part.is_sheet, part.deflated) {
                (true, _) => (0, 0, ENDLESS, ENDLESS, sheets),
                (false, true) => (8, part.crc, part.packed, part.unpacked, part.start),
                (false, false) => (0, part.crc, part.packed, part.unpacked, part.start),
            };
            tail.extend_from_slice(b"PK\x01\x02");
            // Version 2.0 made it and reads it; names are UTF-8; from the first of January 1980.
            for short in [20, 20, 1 << 11, method, 0, 0x21] {
                tail.extend_from_slice(&u16::to_le_bytes(short));
            }
            for long in [crc, packed, unpacked] {
                tail.extend_from_slice(&long.to_le_bytes());
            }
            let name = u16::try_from(part.name.len()).map_err(|_| ErrorKind::InvalidData)?;
            for short in [name, 0, 0, 0, 0, 0, 0] {
                tail.extend_from_slice(&short.to_le_bytes());
            }
            tail.extend_from_slice(&start.to_le_bytes());
            tail.extend_from_slice(part.name.as_bytes());
        }
        let size = tail.len() - directory;
        let count = u16::try_from(parts.len()).map_err(|_| ErrorKind::InvalidData)?;
        tail.extend_from_slice(b"PK\x05\x06");
        for short in [0, 0, count, count] {
            tail.extend_from_slice(&u16::to_le_bytes(short));
        }
        let Ok(directory) = u32::try_from(length + directory as u64) else {
            return Ok(None);
        };
        tail.extend_from_slice(&(size as u32).to_le_bytes());
        tail.extend_from_slice(&directory.to_le_bytes());
        tail.extend_from_slice(&[0, 0]);
        Ok(Some(Feed {
            file: BufReader::new(file),
            length,
            tail,
            at: u64::MAX,
            fed,
        }))
    }

    /// Where the data of a sheet begin.
    fn sheet(&self) -> u64 {
        self.length + HEADER.len() as u64
    }
}

impl Read for Feed {
    fn read(&mut self, buffer: &mut [u8]) -> Result<usize> {
        if self.at == self.sheet()
            && let Some(read) = self.fed.read(buffer)
        {
            return read;
        }
        let read = match self.at.checked_sub(self.length) {
            None => {
                let most = usize::try_from(self.length - self.at).unwrap_or(usize::MAX);
                let most = most.min(buffer.len());
                self.file.read(&mut buffer[..most])?
            }
            Some(at) => {
                let at = usize::try_from(at).unwrap_or(usize::MAX);
                self.tail.get(at..).unwrap_or_default().read(buffer)?
            }
        };
        self.at += read as u64;
        Ok(read)
    }
}

impl Seek for Feed {
    fn seek(&mut self, to: SeekFrom) -> Result<u64> {
        let to = match to {
            SeekFrom::Start(to) => Some(to),
            SeekFrom::End(by) => (self.length + self.tail.len() as u64).checked_add_signed(by),
            SeekFrom::Current(by) => self.at.checked_add_signed(by),
        };
        self.at = to.ok_or_else(|| Error::from(ErrorKind::InvalidInput))?;
        if self.at < self.length {
            self.file.seek(SeekFrom::Start(self.at))?;
        }
        Ok(self.at)
    }
}

/// What is put to the library and not yet read by it; nothing while no sheet is being read.
#[derive(Clone, Default)]
pub struct Fed(Arc<Mutex<Option<Waiting>>>);

#[derive(Default)]
struct Waiting {
    bytes: Vec<u8>,
    read: usize,
}

impl Fed {
    /// Begins a sheet, of which nothing is known but that it has data.
    pub fn start(&self) {
        *self.lock() = Some(Waiting {
            bytes: b"<worksheet><sheetData>".to_vec(),
            read: 0,
        });
    }

    pub fn put(&self, write: impl FnOnce(&mut Vec<u8>)) {
        let mut waiting = self.lock();
        let waiting = waiting.get_or_insert_default();
        waiting.bytes.drain(..waiting.read);
        waiting.read = 0;
        write(&mut waiting.bytes);
    }

    /// `None` while no sheet is being read. More is never asked for than was put, unless a cell does
    /// not end where it seemed to.
    fn read(&self, buffer: &mut [u8]) -> Option<Result<usize>> {
        let mut waiting = self.lock();
        let waiting = waiting.as_mut()?;
        if waiting.read == waiting.bytes.len() {
            let what = "a cell does not end where it should";
            return Some(Err(Error::new(ErrorKind::UnexpectedEof, what)));
        }
        let left = &waiting.bytes[waiting.read..];
        let read = left.len().min(buffer.len());
        buffer[..read].copy_from_slice(&left[..read]);
        waiting.read += read;
        Some(Ok(read))
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, Option<Waiting>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
