//! A drawing in dots, black on white, for where lines cannot be drawn: the sheets of a workbook.

use super::outline::Stroke;

/// Dots in a millimetre: 300 to the inch, near enough (12 dots are 1.016 mm at 300; here 1 mm).
const DOTS: f64 = 12.0;
/// Half of a line's thickness, in millimetres.
const HALF: f64 = 0.15;
/// White around the drawing, in millimetres, so that no line is cut in half.
const EDGE: f64 = 0.25;

/// One bit a dot, a row in whole bytes; 1 is white.
struct Canvas {
    width: usize,
    height: usize,
    bits: Vec<u8>,
}

impl Canvas {
    fn blank(width: usize, height: usize) -> Canvas {
        Canvas {
            width,
            height,
            bits: vec![0xff; width.div_ceil(8) * height],
        }
    }

    /// Blackens the dots within a box, in millimetres, that a test names.
    fn ink(
        &mut self,
        [left, top]: [f64; 2],
        [right, bottom]: [f64; 2],
        is: impl Fn(f64, f64) -> bool,
    ) {
        let dots = |mm: f64, most: usize| ((mm * DOTS).max(0.0) as usize).min(most);
        let bytes = self.width.div_ceil(8);
        for row in dots(top, self.height)..dots(bottom + 1.0 / DOTS, self.height) {
            for column in dots(left, self.width)..dots(right + 1.0 / DOTS, self.width) {
                let centre = |dot: usize| (dot as f64 + 0.5) / DOTS;
                if is(centre(column), centre(row)) {
                    self.bits[row * bytes + column / 8] &= !(0x80 >> (column % 8));
                }
            }
        }
    }

    fn draw(&mut self, stroke: &Stroke) {
        match *stroke {
            Stroke::Line([ax, ay], [bx, by]) => {
                let (dx, dy) = (bx - ax, by - ay);
                let square = dx * dx + dy * dy;
                self.ink(
                    [ax.min(bx) - HALF, ay.min(by) - HALF],
                    [ax.max(bx) + HALF, ay.max(by) + HALF],
                    |x, y| {
                        let along = match square > 0.0 {
                            true => ((x - ax) * dx + (y - ay) * dy) / square,
                            false => 0.0,
                        };
                        let along = along.clamp(0.0, 1.0);
                        let (off, down) = (x - ax - along * dx, y - ay - along * dy);
                        off * off + down * down <= HALF * HALF
                    },
                );
            }
            Stroke::Circle {
                centre: [cx, cy],
                radius,
            } => {
                let (inner, reach) = ((radius - HALF).max(0.0), radius + HALF);
                let ring = inner * inner..=reach * reach;
                self.ink(
                    [cx - reach, cy - reach],
                    [cx + reach, cy + reach],
                    |x, y| ring.contains(&((x - cx) * (x - cx) + (y - cy) * (y - cy))),
                );
            }
        }
    }
}

/// Dots that a drawing of a size in millimetres takes.
fn dots(mm: f64) -> usize {
    ((mm + 2.0 * EDGE) * DOTS).ceil() as usize
}

/// The size of the picture of a drawing, in millimetres: its own, and a little white around it.
pub fn size(drawing: [f64; 2]) -> [f64; 2] {
    drawing.map(|mm| dots(mm) as f64 / DOTS)
}

/// The picture of a drawing of a size in millimetres as a PNG that says how large it is.
pub fn png(drawing: [f64; 2], strokes: &[Stroke]) -> Result<Vec<u8>, png::EncodingError> {
    let [width, height] = drawing.map(dots);
    let mut canvas = Canvas::blank(width, height);
    let moved = |[x, y]: [f64; 2]| [x + EDGE, y + EDGE];
    for stroke in strokes {
        canvas.draw(&match *stroke {
            Stroke::Line(a, b) => Stroke::Line(moved(a), moved(b)),
            Stroke::Circle { centre, radius } => Stroke::Circle {
                centre: moved(centre),
                radius,
            },
        });
    }
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, width as u32, height as u32);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::One);
    let per_metre = (DOTS * 1000.0) as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions {
        xppu: per_metre,
        yppu: per_metre,
        unit: png::Unit::Meter,
    }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&canvas.bits)?;
    writer.finish()?;
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The picture is read back: a box of 10 x 5 mm has ink on its sides and none within.
    #[test]
    fn a_box_is_drawn_at_its_size() {
        let corners = [[0.0, 0.0], [10.0, 0.0], [10.0, 5.0], [0.0, 5.0]];
        let sides: Vec<Stroke> = (0..4)
            .map(|n| Stroke::Line(corners[n], corners[(n + 1) % 4]))
            .collect();
        let bytes = png([10.0, 5.0], &sides).expect("a picture");
        let mut reader = png::Decoder::new(std::io::Cursor::new(bytes))
            .read_info()
            .expect("reads");
        let dims = reader.info().pixel_dims.expect("it says how large it is");
        assert_eq!((dims.xppu, dims.yppu), (12_000, 12_000));
        let mut bits = vec![0; reader.output_buffer_size().expect("small")];
        let frame = reader.next_frame(&mut bits).expect("reads");
        assert_eq!((frame.width, frame.height), (126, 66));
        let black = |x: f64, y: f64| {
            let [x, y] = [x, y].map(|mm| ((mm + EDGE) * DOTS) as usize);
            bits[y * frame.line_size + x / 8] & (0x80 >> (x % 8)) == 0
        };
        for (x, y) in [(0.0, 2.5), (10.0, 2.5), (5.0, 0.0), (5.0, 5.0)] {
            assert!(black(x, y), "{x} {y}");
        }
        for (x, y) in [(0.4, 0.4), (5.0, 2.5), (9.6, 4.6)] {
            assert!(!black(x, y), "{x} {y}");
        }
    }
}
