//! Threads as stated, and the standard series.

use std::fmt;

use super::size::{Decimal, Ratio};

/// A thread as a line states it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Thread {
    /// Threads per inch (`13` of `1/2-13`).
    PerInch(u16),
    /// Pitch in millimetres (`1.25` of `M8x1.25`).
    Pitch(Ratio),
}

impl fmt::Display for Thread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Thread::PerInch(n) => write!(f, "{n}"),
            Thread::Pitch(p) => write!(f, "{}", Decimal(*p)),
        }
    }
}
