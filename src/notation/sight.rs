//! Figures told at sight: sizes as most are written, which need no closer look.

use super::{
    bytes::{DIGIT, INSIDE, LETTER, is},
    number::{Prefix, Shape, mixed, proper},
};
use crate::hardware::Ratio;

/// A whole number of few figures within a text.
#[derive(Clone, Copy)]
pub(super) struct Figure {
    pub n: i64,
    /// Up to three figures, of which the first is not 0.
    pub short: bool,
    pub end: usize,
}

impl Figure {
    /// The figures from a byte on; none where others stand there.
    #[inline]
    pub fn at(bytes: &[u8], at: usize) -> Figure {
        let (mut n, mut end) = (0, at);
        while let Some(digit @ b'0'..=b'9') = bytes.get(end)
            && end < at + 4
        {
            n = n * 10 + i64::from(digit - b'0');
            end += 1;
        }
        let short = (1..4).contains(&(end - at)) && bytes[at] != b'0';
        Figure { n, short, end }
    }

    pub fn value(self) -> Ratio {
        Ratio::from_integer(self.n)
    }
}

/// A size: `5/16`, `1/2-13`, `3-3/4`, `M12`, `45`.
#[derive(Clone, Copy)]
pub(super) struct Sight {
    pub value: Ratio,
    pub shape: Shape,
    pub prefix: Prefix,
    /// Where the figure ends.
    pub end: usize,
    /// The threads behind a dash.
    pub threads: Option<Figure>,
}

impl Sight {
    /// The size from a byte on. What follows it may make another thing of it (see [`ends_chunk`]).
    #[inline]
    pub fn at(bytes: &[u8], at: usize) -> Option<Sight> {
        let metric = matches!(bytes.get(at), Some(b'm' | b'M'));
        let first = Figure::at(bytes, at + usize::from(metric));
        if !first.short {
            return None;
        }
        let whole = Sight {
            value: first.value(),
            shape: Shape::Whole,
            prefix: if metric { Prefix::Metric } else { Prefix::None },
            end: first.end,
            threads: None,
        };
        let (before, numer) = match bytes.get(first.end) {
            Some(b'/') if !metric => (None, first),
            Some(b'-') if !metric => (Some(first), Figure::at(bytes, first.end + 1)),
            _ => return Some(whole),
        };
        if !matches!(bytes.get(numer.end), Some(b'/')) {
            return None;
        }
        let denom = Figure::at(bytes, numer.end + 1);
        if !numer.short || !denom.short {
            return None;
        }
        let part = proper(numer.n, denom.n)?;
        let fraction = Sight {
            value: part,
            shape: Shape::Fraction,
            end: denom.end,
            ..whole
        };
        Some(match (before, bytes.get(denom.end)) {
            (Some(whole), _) => Sight {
                value: mixed(whole.n, part),
                shape: Shape::Mixed,
                ..fraction
            },
            (None, Some(b'-')) => {
                let threads = Figure::at(bytes, denom.end + 1);
                Sight {
                    threads: threads.short.then_some(threads),
                    ..fraction
                }
            }
            _ => fraction,
        })
    }

    /// Where it ends, with its threads.
    pub fn end(&self) -> usize {
        self.threads.map_or(self.end, |threads| threads.end)
    }
}

/// True where a chunk of letters, figures and marks ends for sure.
#[inline]
pub(super) fn ends_chunk(bytes: &[u8], at: usize) -> bool {
    match bytes.get(at) {
        None => true,
        Some(b',') => !bytes.get(at + 1).is_some_and(u8::is_ascii_digit),
        Some(b) => b.is_ascii() && !is(*b, LETTER | DIGIT | INSIDE),
    }
}
