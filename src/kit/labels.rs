//! The label stock that bins and bags are labelled from.

use crate::names::names;

names! {
    /// The paper of a sheet of labels, upright.
    pub enum Page {
        /// 210 x 297 mm, ISO 216.
        A4 = "A4",
        /// 8-1/2 x 11 in, ANSI/ASME Y14.1 size A.
        Letter = "letter",
    }
}

/// A sheet of equal labels. All measures are in tenths of a millimetre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LabelStock {
    pub page: Page,
    pub rows: u32,
    pub columns: u32,
    /// Above the first row and below the last.
    pub margin_top: u32,
    /// Left of the first column and right of the last.
    pub margin_side: u32,
    /// Between two columns.
    pub gap: u32,
}

/// The least width and height of a label that words fit on.
const LEAST: (u32, u32) = (200, 120);

impl Page {
    /// Width and height in tenths of a millimetre.
    pub const fn size(self) -> (u32, u32) {
        match self {
            Page::A4 => (2100, 2970),
            Page::Letter => (2159, 2794),
        }
    }
}

impl LabelStock {
    /// Common stock, large enough to be read at arm's length: 2 x 5 labels on A4, and the same of
    /// 4 x 2 in on letter paper (common practice, no source).
    pub const fn common(page: Page) -> LabelStock {
        let (margin_top, margin_side, gap) = match page {
            Page::A4 => (135, 50, 30),
            Page::Letter => (127, 40, 47),
        };
        LabelStock {
            page,
            rows: 5,
            columns: 2,
            margin_top,
            margin_side,
            gap,
        }
    }

    /// Width and height of a label in tenths of a millimetre; `None` where the margins and gaps
    /// leave too little to write on.
    pub fn label(&self) -> Option<(u32, u32)> {
        let (width, height) = self.page.size();
        let gaps = self.gap.checked_mul(self.columns.checked_sub(1)?)?;
        let width = width
            .checked_sub(2 * self.margin_side)?
            .checked_sub(gaps)?
            .checked_div(self.columns)?;
        let height = height
            .checked_sub(2 * self.margin_top)?
            .checked_div(self.rows)?;
        (width >= LEAST.0 && height >= LEAST.1).then_some((width, height))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn common_stock() {
        // 4 x 2 in is 101.6 x 50.8 mm.
        assert_eq!(LabelStock::common(Page::Letter).label(), Some((1016, 508)));
        assert_eq!(LabelStock::common(Page::A4).label(), Some((985, 540)));
    }

    #[test]
    fn too_little_to_write_on() {
        let a4 = LabelStock::common(Page::A4);
        assert_eq!(LabelStock { columns: 10, ..a4 }.label(), None);
        assert_eq!(LabelStock { rows: 40, ..a4 }.label(), None);
        assert_eq!(
            LabelStock {
                margin_side: 1100,
                ..a4
            }
            .label(),
            None
        );
    }
}
