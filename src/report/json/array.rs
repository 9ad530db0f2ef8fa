//! Long arrays, made into text by all processors.

use std::io::{self, Write};

use rayon::prelude::*;
use serde::Serialize;

/// Objects that are made into text at once, and how many by one processor at a time. An item of a long list
/// may take 30 KB.
const CHUNK: usize = 256;
const PART: usize = 16;

/// Text in the making. Most of what is written to it is one mark (a quote, a colon, a comma), for which copying
/// a slice is a long way.
#[derive(Default)]
struct Text(Vec<u8>);

impl Write for Text {
    #[inline]
    fn write_all(&mut self, bytes: &[u8]) -> io::Result<()> {
        match bytes {
            [mark] => self.0.push(*mark),
            _ => self.0.extend_from_slice(bytes),
        }
        Ok(())
    }

    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.write_all(bytes)?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Writes so many objects as one array. Each chunk is made into text by all processors while the one before
/// is written, so that an array of any length costs no more memory than two chunks.
///
/// # Errors
/// What the writer reports.
pub fn write_array<T: Serialize>(
    length: usize,
    object: impl Fn(usize) -> T + Sync,
    out: &mut impl Write,
) -> io::Result<()> {
    let text_of = |first: usize| -> serde_json::Result<Vec<Vec<u8>>> {
        let chunk = first..length.min(first + CHUNK);
        let parts = chunk.into_par_iter().step_by(PART).map(|first| {
            let mut text = Text::default();
            for at in first..length.min(first + PART) {
                if at > 0 {
                    text.0.push(b',');
                }
                serde_json::to_writer(&mut text, &object(at))?;
            }
            Ok(text.0)
        });
        parts.collect()
    };
    out.write_all(b"[")?;
    let mut chunks = (0..length).step_by(CHUNK);
    let mut ready = chunks.next().map(text_of);
    while let Some(texts) = ready.take() {
        let (texts, next) = (texts?, chunks.next());
        rayon::in_place_scope(|scope| {
            let ready = &mut ready;
            scope.spawn(|_| *ready = next.map(text_of));
            texts.iter().try_for_each(|text| out.write_all(text))
        })?;
    }
    out.write_all(b"]")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_array_is_that_of_all_objects() {
        for length in [0, 1, PART, PART + 1, CHUNK - 1, CHUNK, 2 * CHUNK + PART + 3] {
            let mut out = Vec::new();
            write_array(length, |at| at * 3, &mut out).unwrap();
            let all: Vec<usize> = (0..length).map(|at| at * 3).collect();
            assert_eq!(out, serde_json::to_vec(&all).unwrap(), "{length}");
        }
    }
}
