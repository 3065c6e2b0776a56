//! The numbers that a build gives, each with its key and its uncertainty, and how to move them.
//!
//! A reader asks for a value as ever; on its way the value is noted as an [`Input`], and moved where
//! a [`Shift`] names its key. So a study can read the same document with any input moved, and every
//! default and derived value follows as it would by `--set`.

use std::cell::RefCell;

use super::fault::Place;
use super::keys::spec::{Measured, Spec};
use crate::quantity::Kind;

/// A number, or a table of them over engine speed, that a build gives or a default stands for.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    /// The dotted key, in the words of `--set`.
    pub key: String,
    /// Where it was written; of a default, its section.
    pub place: Place,
    /// What it measures.
    pub kind: Kind,
    /// As written: `4.5 L +- 0.1 L`; of a table its first and last value.
    pub written: String,
    /// Whether it is a default that stands for a key.
    pub is_default: bool,
    /// Whether every value of it is 0.
    pub is_zero: bool,
    /// Whether any of its values carries an uncertainty.
    pub is_uncertain: bool,
}

/// How far an input is moved. All rows of a table move together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum By {
    /// By so many of its standard uncertainties, and no further than its permitted range; a row
    /// without uncertainty stays.
    Uncertainties(f64),
    /// By so large a share of itself.
    Share(f64),
    /// By so many SI units (rpm for rotational speed).
    Difference(f64),
}

/// One input moved.
#[derive(Debug, Clone, PartialEq)]
pub struct Shift {
    /// The input's key.
    pub key: String,
    /// How far.
    pub by: By,
}

/// Inputs noted so far, and those that are to be moved.
#[derive(Debug, Default)]
pub(super) struct Inputs {
    noted: RefCell<Vec<Input>>,
    shifts: Vec<Shift>,
}

/// What is known of an input where it is read.
pub(super) struct Source<'s> {
    pub key: String,
    pub place: &'s Place,
    pub spec: Spec,
    pub is_default: bool,
}

impl Inputs {
    pub(super) fn new(shifts: &[Shift]) -> Self {
        Self {
            noted: RefCell::default(),
            shifts: shifts.to_vec(),
        }
    }

    /// Notes an input and moves its values where that is asked for; a value moved out of its
    /// permitted range is refused. Counts and speeds of the line are no inputs.
    pub(super) fn take(
        &self,
        source: &Source<'_>,
        values: &mut [Measured],
        written: impl FnOnce() -> String,
    ) -> Result<(), String> {
        if source.spec.is_exact() {
            return Ok(());
        }
        for shift in self.shifts.iter().filter(|shift| shift.key == source.key) {
            for measured in values.iter_mut() {
                measured.value = moved(*measured, shift.by, source.spec)?;
            }
        }
        let mut noted = self.noted.borrow_mut();
        if self.shifts.is_empty() && noted.iter().all(|input| input.key != source.key) {
            noted.push(Input {
                key: source.key.clone(),
                place: source.place.clone(),
                kind: source.spec.kind(),
                written: written(),
                is_default: source.is_default,
                is_zero: values.iter().all(|measured| measured.value.abs() <= 0.0),
                is_uncertain: values.iter().any(|measured| measured.uncertainty.is_some()),
            });
        }
        Ok(())
    }

    pub(super) fn into_list(self) -> Vec<Input> {
        self.noted.into_inner()
    }
}

fn moved(measured: Measured, by: By, spec: Spec) -> Result<f64, String> {
    let Measured { value, uncertainty } = measured;
    let moved = match by {
        By::Uncertainties(count) => match uncertainty {
            Some(uncertainty) => return Ok(spec.held(value, value + count * uncertainty)),
            None => value,
        },
        By::Share(share) => value * (1.0 + share),
        By::Difference(difference) => value + difference,
    };
    if spec.permits(moved) {
        Ok(moved)
    } else {
        Err(format!("{moved} is outside the allowed range"))
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Document, Outcome, read, read_shifted};
    use super::*;
    use crate::matching::Installation;
    use approx::assert_relative_eq;

    const BUILD: &str = r#"
[site]
altitude = "1600 m"
temperature = "24 degC +- 3 K"
[engine]
displacement = "4.5 L +- 0.1 L"
cylinders = 4
volumetric_efficiency = [[1200, "0.86 +- 0.02"], [2400, 0.90], [3200, "0.87 +- 0.03"]]
rpm = { from = 1200, to = 3200, step = 200 }
[fuel]
kind = "diesel"
per_stroke = "150 mm3 +- 2 %"
"#;

    fn as_written(text: &str) -> Outcome {
        read(&Document::from_text("t", text), &[], &|_| Err(Vec::new()))
    }

    fn with(text: &str, shifts: &[Shift]) -> Option<Installation> {
        let document = Document::from_text("t", text);
        read_shifted(&document, &[], &|_| Err(Vec::new()), shifts)
    }

    fn shift(key: &str, by: By) -> Shift {
        Shift {
            key: key.to_owned(),
            by,
        }
    }

    #[test]
    fn inputs_are_noted_with_key_line_and_uncertainty() {
        let outcome = as_written(BUILD);
        assert!(outcome.faults.is_empty(), "{:?}", outcome.faults);
        let find = |key: &str| outcome.inputs.iter().find(|input| input.key == key);
        let displacement = find("engine.displacement").unwrap();
        assert!(displacement.is_uncertain && !displacement.is_default);
        assert_eq!(displacement.written, "4.5 L +- 0.1 L");
        assert_eq!(displacement.place, Place::Line("t".into(), 6));
        let filling = find("engine.volumetric_efficiency").unwrap();
        assert!(filling.is_uncertain);
        assert_eq!(filling.written, "0.86 +- 0.02 … 0.87 +- 0.03");
        assert!(find("site.pressure").unwrap().is_default);
        assert!(!find("site.altitude").unwrap().is_uncertain);
        for exact in ["engine.cylinders", "engine.rpm.from", "engine.strokes"] {
            assert_eq!(find(exact), None, "{exact}");
        }
    }

    #[test]
    fn a_shift_moves_its_input_and_what_follows_from_it() {
        let moved = with(
            BUILD,
            &[
                shift("site.temperature", By::Uncertainties(2.0)),
                shift("engine.displacement", By::Share(0.01)),
                shift("engine.volumetric_efficiency", By::Uncertainties(-1.0)),
                shift("fuel.per_stroke", By::Uncertainties(1.0)),
            ],
        )
        .unwrap();
        assert_relative_eq!(moved.site.temperature, 303.15, max_relative = 1e-12);
        assert_relative_eq!(moved.engine.displacement, 4.545e-3, max_relative = 1e-12);
        let rows: Vec<f64> = moved
            .engine
            .volumetric_efficiency
            .rows()
            .iter()
            .map(|row| row.1)
            .collect();
        assert_relative_eq!(rows[..], [0.84, 0.90, 0.84][..], max_relative = 1e-12);
        let fuel = moved.fuel.unwrap();
        let crate::engine::Fuelling::PerStroke { mass, .. } = fuel.burned else {
            panic!("per stroke");
        };
        // 150 mm³ of 835 kg/m³.
        assert_relative_eq!(mass.at(2000.0), 1.02 * 150e-9 * 835.0, max_relative = 1e-12);
        let altitude = |shifts: &[Shift]| with(BUILD, shifts).unwrap().site.pressure;
        let up = altitude(&[shift("site.altitude", By::Share(0.01))]);
        assert!(up < altitude(&[]) && up > 0.99 * altitude(&[]));
        let own = altitude(&[shift("site.pressure", By::Share(0.01))]);
        assert_relative_eq!(own, 1.01 * altitude(&[]), max_relative = 1e-12);
    }

    #[test]
    fn uncertainties_stop_at_the_permitted_range_and_steps_are_refused_there() {
        let text = BUILD.replace(
            "\"24 degC +- 3 K\"",
            "\"24 degC\"\nrelative_humidity = \"0.95 +- 0.05\"",
        );
        let moved = with(
            &text,
            &[shift("site.relative_humidity", By::Uncertainties(3.0))],
        );
        assert_relative_eq!(moved.unwrap().site.relative_humidity, 1.0);
        let refused = with(&text, &[shift("site.relative_humidity", By::Share(0.1))]);
        assert!(refused.is_none());
    }

    fn fault(text: &str) -> String {
        let document = Document::from_text("t", text);
        let outcome = read(&document, &[], &|_| Err(Vec::new()));
        let said = outcome.faults.iter().map(ToString::to_string);
        said.collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn faults_of_uncertainties_name_their_line_and_key() {
        let with = |from: &str, to: &str| fault(&BUILD.replace(from, to));
        let said = with("4.5 L +- 0.1 L", "4.5 L +- 5 L");
        assert_eq!(
            said,
            "t:6: engine.displacement: +- 5 L does not fit: one standard uncertainty below the value is \
             -0.5 L; it must be between 0.001 L and 1000 L"
        );
        let said = with("\"0.87 +- 0.03\"", "\"0.87 +- -0.03\"");
        assert!(
            said.starts_with(
                "t:8: engine.volumetric_efficiency: row 3: \"-0.03\" after +- must be above 0"
            ),
            "{said}"
        );
        let said = with("cylinders = 4", "cylinders = \"4 +- 1\"");
        assert!(
            said.starts_with("t:7: engine.cylinders: takes no +-"),
            "{said}"
        );
        let said = with("4.5 L +- 0.1 L", "4.5 +- 0.1");
        assert!(
            said.starts_with("t:6: engine.displacement: 4.5 has no unit"),
            "{said}"
        );
        let said = with("from = 1200", "from = \"1200 +- 10\"");
        assert!(
            said.starts_with("t:9: engine.rpm.from: takes no +-"),
            "{said}"
        );
    }

    #[test]
    fn one_unit_may_serve_value_and_uncertainty() {
        let text = BUILD.replace("4.5 L +- 0.1 L", "4.5 +- 0.1 L");
        let up = with(
            &text,
            &[shift("engine.displacement", By::Uncertainties(1.0))],
        );
        let displacement = up.unwrap().engine.displacement;
        assert_relative_eq!(displacement, 4.6e-3, max_relative = 1e-12);
    }
}
