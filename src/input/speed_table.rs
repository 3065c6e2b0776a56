//! Values that may vary with engine speed: one value, or a list of `[rpm, value]` rising in rpm.

use super::document::{Node, Value};
use super::keys::row::Key;
use super::keys::spec::{ENGINE_SPEED, Measured, Spec};
use super::reader::Reader;
use crate::numeric::{Schedule, ScheduleError};
use crate::quantity::{Words, words};

impl Reader<'_> {
    /// A value that may vary with engine speed, where it is written: one value, or a list of
    /// `[rpm, value]` rising in rpm.
    pub(super) fn schedule(&self, key: &'static Key) -> Option<Schedule> {
        let (node, spec) = (self.node(key.name)?, key.spec()?);
        let site = self.context().site_pressure.get();
        self.schedule_by(node, key, spec, |value| spec.read(value, site))
    }

    /// A value over engine speed that has to be there.
    pub(super) fn needed_schedule(&self, key: &'static Key) -> Option<Schedule> {
        self.has_to_have(key);
        self.schedule(key)
    }

    /// A value over engine speed, each value read by `read` into the measure of `spec`.
    pub(super) fn schedule_by(
        &self,
        node: &Node,
        key: &Key,
        spec: Spec,
        read: impl Fn(&Node) -> Result<Measured, Words>,
    ) -> Option<Schedule> {
        let Value::List(rows) = &node.value else {
            let value = read(node).map_err(|text| self.fault(key.name, text)).ok()?;
            let mut values = [value];
            self.take(key, spec, node, &mut values)?;
            return Some(Schedule::constant(values[0].value));
        };
        let (speeds, mut values): (Vec<f64>, Vec<Measured>) =
            self.rows(rows, node, key.name, read)?.into_iter().unzip();
        self.take(key, spec, node, &mut values)?;
        let values = values.iter().map(|measured| measured.value);
        let values = speeds.into_iter().zip(values).collect();
        self.rising(rows, values, key.name, Schedule::new)
    }

    /// Where something is engaged: a flag, or a list of `[rpm, 1 or 0]`, each up to the next row.
    pub(super) fn switch_schedule(&self, key: &'static Key) -> Option<Schedule> {
        let key = key.name;
        let node = self.node(key)?;
        let switch = |node: &Node| match &node.value {
            Value::Flag(on) => Ok(f64::from(u8::from(*on))),
            Value::Number(_, value)
                if *value > -0.5 && *value < 1.5 && value.fract().abs() <= 0.0 =>
            {
                Ok(*value)
            }
            _ => Err("must be 1 (engaged) or 0 (disengaged)".into()),
        };
        let Value::List(rows) = &node.value else {
            let value = switch(node).map_err(|text| self.fault(key, text));
            return value.map(Schedule::constant).ok();
        };
        let values = self.rows(rows, node, key, switch)?;
        self.rising(rows, values, key, Schedule::steps)
    }

    /// The rows of a table over engine speed; `None` when one of them is wrong, which is noted at
    /// its own place.
    fn rows<T>(
        &self,
        rows: &[Node],
        list: &Node,
        key: &str,
        read: impl Fn(&Node) -> Result<T, Words>,
    ) -> Option<Vec<(f64, T)>> {
        let full = self.key(key);
        if rows.is_empty() {
            let text = "is an empty list: write one value, or rows like [[1200, …], [3200, …]]";
            self.context().fault(&list.place, &full, text);
            return None;
        }
        let mut values = Vec::with_capacity(rows.len());
        for (number, row) in rows.iter().enumerate() {
            let number = number + 1;
            let note = |text: Words| {
                let text = words![format!("row {number}: "), text];
                self.context().fault(&row.place, &full, text);
            };
            let Value::List(pair) = &row.value else {
                note("a row is written [rpm, value], the whole as [[1200, …], [3200, …]]".into());
                return None;
            };
            let [speed, value] = pair.as_slice() else {
                let count = pair.len();
                let text = format!("a row is written [rpm, value], this one has {count} entries");
                note(text.into());
                continue;
            };
            let speed = ENGINE_SPEED
                .at_least(0.0)
                .read(speed, None)
                .map(|speed| speed.value)
                .map_err(&note);
            let value = read(value).map_err(&note);
            if let (Ok(speed), Ok(value)) = (speed, value) {
                values.push((speed, value));
            }
        }
        (values.len() == rows.len()).then_some(values)
    }

    fn rising(
        &self,
        rows: &[Node],
        values: Vec<(f64, f64)>,
        key: &str,
        make: impl Fn(Vec<(f64, f64)>) -> Result<Schedule, ScheduleError>,
    ) -> Option<Schedule> {
        let speeds: Vec<f64> = values.iter().map(|row| row.0).collect();
        match make(values) {
            Ok(schedule) => Some(schedule),
            Err(ScheduleError::NotRising { row }) => {
                let text = format!(
                    "row {}: {} rpm does not rise above the {} rpm of the row before; sort the rows by rising rpm, one row a speed",
                    row + 1,
                    speeds[row],
                    speeds[row - 1]
                );
                self.context().fault(&rows[row].place, &self.key(key), text);
                None
            }
            Err(other) => {
                self.fault(key, other.to_string());
                None
            }
        }
    }
}
