//! How words begin, and sets of such beginnings.

/// The first four letters of a word in any case, side by side in one number.
pub(super) const fn beginning(word: &str) -> u32 {
    let letters = word.as_bytes();
    let (mut begins, mut i) = (0, 0);
    while i < letters.len() && i < 4 {
        begins = begins << 5 | (letters[i] & 31) as u32;
        i += 1;
    }
    begins
}

/// A set of beginnings of words, in which one that is not there may be found now and then.
pub(super) struct Beginnings([u64; 16]);

impl Beginnings {
    pub const NONE: Beginnings = Beginnings([0; 16]);

    /// Of words with bars between them.
    pub const fn of(words: &str) -> Beginnings {
        let letters = words.as_bytes();
        let (mut all, mut i, mut begins, mut len) = (Beginnings::NONE, 0, 0, 0);
        while i <= letters.len() {
            if i == letters.len() || letters[i] == b'|' {
                if len > 0 {
                    all.add(begins);
                }
                (begins, len) = (0, 0);
            } else if len < 4 {
                begins = begins << 5 | (letters[i] & 31) as u32;
                len += 1;
            }
            i += 1;
        }
        all
    }

    /// One of 1024 places: ten bits of a product by a number that was tried out, so that few words of
    /// the labelled sentences fall on the place of another cue.
    const fn place(begins: u32) -> (usize, u64) {
        let place = begins.wrapping_mul(0x10c6_7fd9) >> 22;
        ((place / 64) as usize, 1 << (place % 64))
    }

    pub const fn add(&mut self, begins: u32) {
        let (at, bit) = Beginnings::place(begins);
        self.0[at] |= bit;
    }

    pub const fn has(&self, begins: u32) -> bool {
        let (at, bit) = Beginnings::place(begins);
        self.0[at] & bit != 0
    }

    pub fn meets(&self, other: &Beginnings) -> bool {
        let common = self.0.iter().zip(&other.0).map(|(a, b)| a & b);
        common.fold(0, |all, bits| all | bits) != 0
    }
}
