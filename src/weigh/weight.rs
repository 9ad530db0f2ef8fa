//! Weights as people write them: a number, perhaps its unit.

use crate::names::names;

names! {
    /// The units of weight that scales show.
    pub enum WeightUnit {
        Gram = "g",
        Kilogram = "kg",
        Ounce = "oz",
        Pound = "lb",
    }
}

impl WeightUnit {
    /// Grams in one; the avoirdupois pound is exactly 453.59237 g (international agreement of 1959).
    pub const fn grams(self) -> f64 {
        match self {
            WeightUnit::Gram => 1.0,
            WeightUnit::Kilogram => 1000.0,
            WeightUnit::Ounce => 453.592_37 / 16.0,
            WeightUnit::Pound => 453.592_37,
        }
    }

    /// Reads `kg`, `lbs`, `ounces` and their kin.
    ///
    /// # Errors
    /// Any other word.
    pub fn read(text: &str) -> Result<WeightUnit, BadWeight> {
        match text.trim().trim_end_matches('.').to_lowercase().as_str() {
            "g" | "gm" | "gram" | "grams" => Ok(WeightUnit::Gram),
            "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" => Ok(WeightUnit::Kilogram),
            "oz" | "ounce" | "ounces" => Ok(WeightUnit::Ounce),
            "lb" | "lbs" | "pound" | "pounds" => Ok(WeightUnit::Pound),
            _ => Err(BadWeight::UnknownUnit(text.trim().to_owned())),
        }
    }
}

/// A weight as read off a scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weight {
    /// Finite.
    pub grams: f64,
    /// The step of the scale in grams; zero for a scale without steps.
    pub resolution: f64,
    /// True where the step is not stated but taken from the last digit written.
    pub as_written: bool,
}

/// Why a text is no weight.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BadWeight {
    #[error("\"{0}\" is not a weight")]
    NotANumber(String),
    #[error("\"{0}\" is not a unit of weight")]
    UnknownUnit(String),
    #[error("\"{written}\" contradicts the unit {unit}")]
    Contradiction { written: String, unit: WeightUnit },
    #[error("\"{0}\" has no unit where another weight has one")]
    NoUnit(String),
    #[error("\"{0}\" is not a resolution")]
    Resolution(String),
}

impl BadWeight {
    /// What to do about it.
    pub fn todo(&self) -> &'static str {
        match self {
            BadWeight::NotANumber(_) => {
                "write a plain number such as 412.6, without a thousands separator"
            }
            BadWeight::UnknownUnit(_) => "write g, kg, oz or lb",
            BadWeight::Contradiction { .. } | BadWeight::NoUnit(_) => {
                "write all weights of one weighing in one unit, or each with its own and no common one"
            }
            BadWeight::Resolution(_) => "write the smallest step that the scale shows, such as 0.1",
        }
    }
}

/// The weights of one weighing as written, with the unit and resolution that hold for all of them.
#[derive(Debug, Clone, Copy)]
pub struct Scale<'a> {
    pub unit: Option<&'a str>,
    /// In the common unit, unless it names its own.
    pub resolution: Option<&'a str>,
}

impl Scale<'_> {
    /// Reads weights off this scale, all of one weighing.
    ///
    /// # Errors
    /// A text that is no number, an unknown unit, or units that contradict each other.
    pub fn read(&self, texts: &[&str]) -> Result<Vec<Weight>, BadWeight> {
        let common = self.unit.map(WeightUnit::read).transpose()?;
        let parts: Vec<_> = texts
            .iter()
            .map(|text| split(text))
            .collect::<Result<_, _>>()?;
        let any_stated = parts.iter().any(|(_, unit)| unit.is_some());
        std::iter::zip(texts, parts)
            .map(|(text, (number, stated))| {
                let unit = match (stated, common) {
                    (Some(stated), Some(unit)) if stated != unit => {
                        return Err(BadWeight::Contradiction {
                            written: text.trim().to_owned(),
                            unit,
                        });
                    }
                    (Some(unit), _) | (None, Some(unit)) => unit,
                    (None, None) if any_stated => {
                        return Err(BadWeight::NoUnit(text.trim().to_owned()));
                    }
                    (None, None) => WeightUnit::Gram,
                };
                let value = value(number)?;
                let resolution = match self.resolution {
                    Some(resolution) => step(resolution, unit)?,
                    None => last_digit(number) * unit.grams(),
                };
                Ok(Weight {
                    grams: value * unit.grams(),
                    resolution,
                    as_written: self.resolution.is_none(),
                })
            })
            .collect()
    }
}

/// The step that a scale shows, in grams.
fn step(text: &str, unit: WeightUnit) -> Result<f64, BadWeight> {
    let bad = || BadWeight::Resolution(text.trim().to_owned());
    let (number, stated) = split(text).map_err(|_| bad())?;
    let step = value(number).map_err(|_| bad())?;
    match step >= 0.0 {
        true => Ok(step * stated.unwrap_or(unit).grams()),
        false => Err(bad()),
    }
}

/// The number and the unit of a weight.
fn split(text: &str) -> Result<(&str, Option<WeightUnit>), BadWeight> {
    let text = text.trim();
    let end = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let unit = match unit {
        "" => None,
        unit => Some(WeightUnit::read(unit)?),
    };
    Ok((number.trim_end(), unit))
}

/// A plain decimal; a comma may stand for the point where it cannot part thousands.
fn value(number: &str) -> Result<f64, BadWeight> {
    let bad = || BadWeight::NotANumber(number.to_owned());
    let digits = number.strip_prefix('-').unwrap_or(number);
    let (whole, decimals) = digits.split_once(['.', ',']).unwrap_or((digits, "0"));
    let all_digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
    let thousands = digits.contains(',') && decimals.len() == 3 && whole != "0";
    if !(all_digits(whole) || whole.is_empty()) || !all_digits(decimals) || thousands {
        return Err(bad());
    }
    match number.replace(',', ".").parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ => Err(bad()),
    }
}

/// The place of the last digit written: 0.1 for `412.6`.
fn last_digit(number: &str) -> f64 {
    let decimals = number.split_once(['.', ',']).map_or(0, |(_, d)| d.len());
    0.1f64.powi(decimals as i32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn reads(text: &str, unit: Option<&str>, grams: f64, resolution: f64) {
        let scale = Scale {
            unit,
            resolution: None,
        };
        let weight = scale.read(&[text]).expect("a weight")[0];
        assert!(
            (weight.grams - grams).abs() < 1e-9 * grams.abs().max(1.0),
            "{}",
            weight.grams
        );
        assert!(
            (weight.resolution - resolution).abs() < 1e-9,
            "{}",
            weight.resolution
        );
    }

    #[test]
    fn weights_as_written() {
        reads("412.6", None, 412.6, 0.1);
        reads("412,6", None, 412.6, 0.1);
        reads(" 8240 ", Some("g"), 8240.0, 1.0);
        reads("8.24 kg", None, 8240.0, 10.0);
        reads("8.24kg", Some("kg"), 8240.0, 10.0);
        reads("2 lbs", None, 907.184_74, 453.592_37);
        reads("1 oz", None, 28.349_523_125, 28.349_523_125);
        reads("-3", None, -3.0, 1.0);
        reads(".5", Some("lb"), 226.796_185, 45.359_237);
        reads("0,125", None, 0.125, 0.001);
    }

    #[track_caller]
    fn refuses(texts: &[&str], unit: Option<&str>, resolution: Option<&str>, message: &str) {
        let error = Scale { unit, resolution }
            .read(texts)
            .expect_err("no weights");
        assert_eq!(error.to_string(), message);
    }

    #[test]
    fn what_is_no_weight() {
        refuses(
            &["12 g", "1.2 kg"],
            Some("g"),
            None,
            "\"1.2 kg\" contradicts the unit g",
        );
        refuses(
            &["12", "1.2 kg"],
            None,
            None,
            "\"12\" has no unit where another weight has one",
        );
        refuses(&["12 st"], None, None, "\"st\" is not a unit of weight");
        refuses(
            &["12"],
            Some("pcs"),
            None,
            "\"pcs\" is not a unit of weight",
        );
        refuses(&["1,234"], None, None, "\"1,234\" is not a weight");
        refuses(&["1,234.5"], None, None, "\"1,234.5\" is not a weight");
        refuses(&[""], None, None, "\"\" is not a weight");
        refuses(&["12"], None, Some("-0.1"), "\"-0.1\" is not a resolution");
    }

    #[test]
    fn a_resolution_may_have_its_own_unit() {
        let scale = Scale {
            unit: Some("kg"),
            resolution: Some("5 g"),
        };
        let weight = scale.read(&["8.245"]).expect("a weight")[0];
        assert_eq!((weight.resolution, weight.as_written), (5.0, false));
    }
}
