//! Cells that say of a row's pieces that there are several heaps of them: at two places, or in packs of so many.

use std::sync::LazyLock;

use regex::Regex;

use crate::words::pattern;

/// True where a cell names two places or more: `both`, `L+R`, `left & right`, `1, 2`, `A and B`. Common practice, no
/// source.
pub fn names_several(cell: &str) -> bool {
    static SEVERAL: LazyLock<Regex> = LazyLock::new(|| {
        pattern(
            r"(?ix-u)^[\s(]* (?:
                both (?: \s+ [a-z]+ )?
                | (?: l | lh | left | inner | front | top | upper | port | near ) (?: [\s-]* [a-z]{3,} )? \s* (?: [+&/,] | \band\b ) \s*
                  (?: r | rh | right | outer | rear | back | bottom | lower | starboard | far ) (?: [\s-]* [a-z]{3,} )?
                | (?: [a-z]{2,} \s+ )? (?: [a-z] | \d{1,2} ) (?: \s* (?: [+&] | ,\s | \band\b ) \s* (?: [a-z] | \d{1,2} ) )+
            ) [\s).]*$",
        )
    });
    const SHORTEST: usize = 3;
    cell.len() >= SHORTEST && SEVERAL.is_match(cell)
}

/// True for whole numbers in a row under a heading of several: `1,2` under `Frames`. Elsewhere the comma may be a
/// decimal's.
pub fn lists_numbers(cell: &str, heading: &str) -> bool {
    let is_number = |part: &str| {
        let part = part.trim();
        (1..=2).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit())
    };
    let several = heading.trim_end().ends_with(['s', 'S']);
    several && cell.contains(',') && cell.split(',').all(is_number)
}

/// True where a cell says in packs of how many: `bag of 8`, `8/bag`, `8 per box`, `packs of 50`.
pub fn names_packs(cell: &str) -> bool {
    static PACKS: LazyLock<Regex> = LazyLock::new(|| {
        const PACK: &str = "(?:bag|box|pack|packet|pkt|pkg|package|carton|ctn|case|crate|pouch|tin|tub|tray|roll|strip|bundle|set|card|blister)";
        pattern(&format!(
            r"(?ix-u)^[\s(]* (?: {PACK} (?:e?s)? \s* (?: of | / | x | \() \s* \d+ | \d+ \s* (?: pcs|pieces|pc|ea|off|no)? \s* (?: / | per | to \s+ (?:a|the) | in \s+ (?:a|each) | an? ) \s* {PACK} | \d+ [\s-]* {PACK} )"
        ))
    });
    cell.contains(|c: char| c.is_ascii_digit()) && PACKS.is_match(cell)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn several_places() {
        for cell in [
            "both",
            "both sides",
            "L+R",
            "L & R",
            "LH/RH",
            "left & right",
            "left and right",
            "Left side, right side",
            "front + rear",
            "1 & 2",
            "1, 2",
            "A and B",
            "bays 1+2",
            "upper and lower",
        ] {
            assert!(names_several(cell), "{cell}");
        }
        for cell in [
            "",
            "left",
            "L",
            "R-12",
            "1,5",
            "A-B",
            "1/2",
            "frame 2",
            "M8, M10",
            "bolt and nut",
            "zinc, plated",
            "A2/70",
            "left-hand",
            "5",
            "rack A, bin 3",
            "to the right",
            "black and white",
        ] {
            assert!(!names_several(cell), "{cell}");
        }
        assert!(lists_numbers("1,2", "Frames"));
        assert!(
            !lists_numbers("1,2", "Width")
                && !lists_numbers("12", "Frames")
                && !lists_numbers("1,200", "Frames")
        );
    }

    #[test]
    fn packs_in_words() {
        for cell in [
            "bag of 8",
            "Bags of 8",
            "8/bag",
            "8 per box",
            "8 pcs per bag",
            "box/50",
            "50 a box",
            "pack (25)",
        ] {
            assert!(names_packs(cell), "{cell}");
        }
        for cell in [
            "", "bag 8", "box", "bag", "loose", "8", "zip bag", "bag A", "carton 2", "2 in",
        ] {
            assert!(!names_packs(cell), "{cell}");
        }
    }
}
