//! Rows in batches from the thread that parses them to the thread that takes them in.

use std::{
    ops::ControlFlow,
    sync::mpsc::{Receiver, Sender, SyncSender, channel, sync_channel},
};

use super::row::Row;

/// A batch is handed on at so many rows, or so many bytes of text.
const ROWS: usize = 256;
const BYTES: usize = 1 << 16;
/// Batches that may wait to be taken in.
const WAITING: usize = 4;

/// Some rows, in buffers that are used again.
#[derive(Default)]
pub struct Batch {
    rows: Vec<Row>,
    filled: usize,
    bytes: usize,
}

impl Batch {
    pub fn rows(&self) -> &[Row] {
        &self.rows[..self.filled]
    }

    fn push(&mut self, row: &Row) {
        match self.rows.get_mut(self.filled) {
            Some(used) => used.clone_from(row),
            None => self.rows.push(row.clone()),
        }
        self.filled += 1;
        self.bytes += row.bytes();
    }

    fn is_full(&self) -> bool {
        self.filled == ROWS || self.bytes >= BYTES
    }
}

/// The end at which rows are put in.
pub struct Filler {
    batch: Batch,
    full: SyncSender<Batch>,
    empty: Receiver<Batch>,
}

impl Filler {
    /// Puts in a row; a break where nobody takes any more.
    pub fn push(&mut self, row: &Row) -> ControlFlow<()> {
        self.batch.push(row);
        match self.batch.is_full() {
            true => self.send(),
            false => ControlFlow::Continue(()),
        }
    }

    /// Hands on what was put in.
    pub fn send(&mut self) -> ControlFlow<()> {
        let mut next = self.empty.try_recv().unwrap_or_default();
        (next.filled, next.bytes) = (0, 0);
        match self.full.send(std::mem::replace(&mut self.batch, next)) {
            Ok(()) => ControlFlow::Continue(()),
            Err(_) => ControlFlow::Break(()),
        }
    }
}

/// Both ends: where rows are put in; where batches of them come out, and where used ones are given
/// back.
pub fn batches() -> (Filler, Receiver<Batch>, Sender<Batch>) {
    let (full, batches) = sync_channel(WAITING);
    let (used, empty) = channel();
    let filler = Filler {
        batch: Batch::default(),
        full,
        empty,
    };
    (filler, batches, used)
}
