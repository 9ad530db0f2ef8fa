//! How far a count by weight may be off: a normal part and a few even ones.
//!
//! Many pieces, each a little off, add up to a normal error. A scale that shows steps adds an error
//! that is anywhere within half a step, all alike; where a step is about a piece, that matters.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// An even part narrower than this share of the whole spread is as good as normal.
const NARROW: f64 = 0.1;
/// So many even parts are kept apart; three even ones together are near enough to normal.
const APART: usize = 3;

/// The law of an error with mean zero: normal and even parts, added.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Law {
    /// Standard deviation of the normal part; above zero.
    sigma: f64,
    /// Half widths of the even parts, widest first.
    even: Vec<f64>,
    variance: f64,
}

impl Law {
    /// From the variance of the normal part (above zero) and the half widths of the even ones.
    pub fn new(variance: f64, half_widths: impl IntoIterator<Item = f64>) -> Law {
        let mut even: Vec<f64> = half_widths.into_iter().collect();
        even.sort_by(|a, b| b.total_cmp(a));
        let whole = variance + even.iter().map(|a| a * a / 3.0).sum::<f64>();
        let narrow = NARROW * whole.sqrt();
        let apart = even
            .iter()
            .take(APART)
            .take_while(|a| **a >= narrow)
            .count();
        let folded: f64 = even.drain(apart..).map(|a| a * a / 3.0).sum();
        Law {
            sigma: (variance + folded).sqrt(),
            even,
            variance: whole,
        }
    }

    pub fn standard_deviation(&self) -> f64 {
        self.variance.sqrt()
    }

    /// The density at `x`.
    pub fn density(&self, x: f64) -> f64 {
        self.integral(0, x)
    }

    /// The chance of an error between `-x` and `x`.
    pub fn within(&self, x: f64) -> f64 {
        (self.integral(1, x) - self.integral(1, -x)).clamp(0.0, 1.0)
    }

    /// The `order`-fold integral of the density from minus infinity. Adding an even part of half
    /// width a turns a function into (its integral at x + a less that at x - a) / 2a.
    fn integral(&self, order: usize, x: f64) -> f64 {
        let parts = self.even.len();
        let mut sum = 0.0;
        for signs in 0..1u32 << parts {
            let (mut at, mut sign) = (x, 1.0);
            for (part, half_width) in self.even.iter().enumerate() {
                if signs >> part & 1 == 0 {
                    at += half_width;
                } else {
                    at -= half_width;
                    sign = -sign;
                }
            }
            sum += sign * normal_integral(order + parts, at / self.sigma);
        }
        let widths: f64 = self.even.iter().map(|a| 2.0 * a / self.sigma).product();
        sum / widths * self.sigma.powi(order as i32 - 1)
    }
}

/// The `order`-fold integral of the standard normal density from minus infinity to `z`, by
/// `F(k+1) = (z F(k) + F(k-1)) / k`.
fn normal_integral(order: usize, z: f64) -> f64 {
    let density = (-0.5 * z * z).exp() / (2.0 * PI).sqrt();
    if order == 0 {
        return density;
    }
    let (mut before, mut now) = (density, normal_cumulative(z));
    for k in 1..order {
        (before, now) = (now, (z * now + before) / k as f64);
    }
    now
}

/// The standard normal cumulative, by the Taylor series about zero: G. Marsaglia, "Evaluating the
/// Normal Distribution", Journal of Statistical Software 11(4), 2004.
fn normal_cumulative(z: f64) -> f64 {
    if z.abs() > 8.5 {
        return if z > 0.0 { 1.0 } else { 0.0 };
    }
    let (mut sum, mut term, mut k) = (z, z, 1.0);
    loop {
        k += 2.0;
        term *= z * z / k;
        let next = sum + term;
        if next == sum {
            break;
        }
        sum = next;
    }
    0.5 + sum * (-0.5 * z * z).exp() * FRAC_1_SQRT_2 / PI.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn near(found: f64, expected: f64, tolerance: f64) {
        assert!(
            (found - expected).abs() <= tolerance,
            "{found} is not {expected}"
        );
    }

    /// Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.1.
    #[test]
    fn normal_cumulative_as_published() {
        near(normal_cumulative(0.0), 0.5, 1e-15);
        near(normal_cumulative(0.5), 0.691_462_461_274_013, 1e-14);
        near(normal_cumulative(1.0), 0.841_344_746_068_543, 1e-14);
        near(normal_cumulative(2.0), 0.977_249_868_051_821, 1e-14);
        near(normal_cumulative(-3.0), 0.001_349_898_031_630, 1e-14);
    }

    #[test]
    fn a_normal_law_alone() {
        let law = Law::new(0.25, []);
        near(law.within(0.5), 0.682_689_492_137, 1e-12);
        near(law.density(0.0), 0.797_884_560_803, 1e-12);
    }

    #[test]
    fn even_laws_alone() {
        // One even part of half width 1: half of it lies within 1/2. Two: a triangle of half
        // width 2, of which 7/16 lies within 1/2.
        near(Law::new(1e-12, [1.0]).within(0.5), 0.5, 1e-5);
        near(Law::new(1e-12, [1.0, 1.0]).within(0.5), 7.0 / 16.0, 1e-5);
        near(Law::new(1e-12, [1.0, 1.0]).density(0.0), 0.5, 1e-5);
    }

    /// Whatever the parts, the law holds one in all and its spread is that of its parts.
    #[test]
    fn the_law_is_whole() {
        for (variance, even) in [
            (0.04, vec![]),
            (0.04, vec![0.05]),
            (0.04, vec![0.3, 0.1]),
            (0.01, vec![1.0, 1.0, 0.5]),
            (1e-6, vec![2.0, 0.5, 0.4, 0.3, 0.01]),
            (4.0, vec![10.0, 1.0, 0.2]),
        ] {
            let law = Law::new(variance, even.clone());
            let reach = 8.0 * law.sigma + law.even.iter().sum::<f64>();
            near(law.within(reach), 1.0, 1e-9);
            let step = reach / 20_000.0;
            let (mut mass, mut spread) = (0.0, 0.0);
            for i in -20_000..=20_000 {
                let x = f64::from(i) * step;
                let density = law.density(x);
                assert!(density > -1e-9, "{even:?} at {x}");
                mass += density * step;
                spread += density * step * x * x;
            }
            near(mass, 1.0, 1e-3);
            near(
                spread.sqrt(),
                law.standard_deviation(),
                2e-3 * law.standard_deviation(),
            );
        }
    }
}
