//! Subjects within subjects, and a subject as JSON. What does not exist is left out, and a number
//! that is not finite is refused here, so that no writer can print one.

use serde_json::{Map, Number, Value};

use super::field::{Field, Get, Inner, NotFinite, Rows};
use super::shape::{Form, Shape};
use crate::quantity::Kind;

/// An object in JSON.
pub type Object = Map<String, Value>;

/// What can be written: a subject with rows, or one of two.
pub trait Writable: 'static {
    /// As an object of JSON.
    fn object(&self) -> Result<Object, NotFinite>;
    /// The forms that the object can have.
    fn forms() -> Vec<Vec<Shape>>;
}

impl<T: Rows> Writable for T {
    fn object(&self) -> Result<Object, NotFinite> {
        let mut object = Object::new();
        for field in T::ROWS {
            add(field, self, &mut object).map_err(|NotFinite(path)| {
                let dot = if path.is_empty() || path.starts_with('[') {
                    ""
                } else {
                    "."
                };
                NotFinite(format!("{}{dot}{path}", field.key))
            })?;
        }
        Ok(object)
    }

    fn forms() -> Vec<Vec<Shape>> {
        vec![shapes(T::ROWS)]
    }
}

/// A match, or why there is none.
impl<T: Rows, E: Rows> Writable for Result<T, E> {
    fn object(&self) -> Result<Object, NotFinite> {
        match self {
            Ok(solved) => solved.object(),
            Err(fault) => fault.object(),
        }
    }

    fn forms() -> Vec<Vec<Shape>> {
        vec![shapes(T::ROWS), shapes(E::ROWS)]
    }
}

/// One subject, where it exists.
pub struct One<T, U>(pub fn(&T) -> Option<U>);
/// Subjects that are put together for the occasion.
pub struct Many<T, U>(pub fn(&T) -> Option<Vec<U>>);
/// Subjects that stand in a list.
pub struct Each<T, U: 'static>(pub fn(&T) -> Option<&[U]>);

impl<T, U: Writable> Inner<T> for One<T, U> {
    fn value(&self, of: &T) -> Result<Option<Value>, NotFinite> {
        let inner = (self.0)(of);
        inner
            .map(|inner| inner.object().map(Value::Object))
            .transpose()
    }

    fn forms(&self) -> Vec<Vec<Shape>> {
        U::forms()
    }

    fn is_list(&self) -> bool {
        false
    }
}

impl<T, U: Writable> Inner<T> for Many<T, U> {
    fn value(&self, of: &T) -> Result<Option<Value>, NotFinite> {
        (self.0)(of).map(|items| list(&items)).transpose()
    }

    fn forms(&self) -> Vec<Vec<Shape>> {
        U::forms()
    }

    fn is_list(&self) -> bool {
        true
    }
}

impl<T, U: Writable> Inner<T> for Each<T, U> {
    fn value(&self, of: &T) -> Result<Option<Value>, NotFinite> {
        (self.0)(of).map(list).transpose()
    }

    fn forms(&self) -> Vec<Vec<Shape>> {
        U::forms()
    }

    fn is_list(&self) -> bool {
        true
    }
}

fn list<U: Writable>(items: &[U]) -> Result<Value, NotFinite> {
    let item = |(at, item): (usize, &U)| match item.object() {
        Ok(object) => Ok(Value::Object(object)),
        Err(NotFinite(path)) => Err(NotFinite(format!("[{at}].{path}"))),
    };
    items.iter().enumerate().map(item).collect()
}

fn add<T>(field: &Field<T>, of: &T, object: &mut Object) -> Result<(), NotFinite> {
    let value = match &field.get {
        Get::Number(kind, get) => get(of).map(|si| number(si, *kind)).transpose()?,
        Get::Range(kind, get) => match get(of) {
            Some([low, high]) => Some(vec![number(low, *kind)?, number(high, *kind)?].into()),
            None => None,
        },
        Get::Count(get) => get(of).map(Value::from),
        Get::Flag(get) => get(of).map(Value::from),
        Get::Text(get) => get(of).map(Value::from),
        Get::Texts(get) => get(of).map(Value::from),
        Get::Inner(inner) => inner.value(of)?,
        Get::Flat(inner) => {
            if let Some(Value::Object(rows)) = inner.value(of)? {
                object.extend(rows);
            }
            None
        }
    };
    if let Some(value) = value {
        object.insert(field.key.to_owned(), value);
    }
    Ok(())
}

/// g/kWh in one kg/J: 1000 g/kg × 3.6e6 J/kWh.
const G_KWH: f64 = 3.6e9;

/// A number as the contract has it: SI, but for a fuel consumption per work.
fn number(si: f64, kind: Kind) -> Result<Value, NotFinite> {
    let value = if kind == Kind::SpecificFuelConsumption {
        si * G_KWH
    } else {
        si
    };
    let number = Number::from_f64(value).ok_or_else(|| NotFinite(String::new()))?;
    Ok(Value::Number(number))
}

/// The shapes of rows; those of a flat subject stand in its place.
fn shapes<T>(rows: &[Field<T>]) -> Vec<Shape> {
    let mut all = Vec::with_capacity(rows.len());
    for field in rows {
        let form = match &field.get {
            Get::Number(kind, _) => Form::Number(*kind),
            Get::Range(kind, _) => Form::Range(*kind),
            Get::Count(_) => Form::Count,
            Get::Flag(_) => Form::Flag,
            Get::Text(_) => Form::Text,
            Get::Texts(_) => Form::Texts,
            Get::Inner(inner) if inner.is_list() => Form::List(inner.forms()),
            Get::Inner(inner) => Form::Object(inner.forms()),
            Get::Flat(inner) => {
                all.extend(inner.forms().into_iter().flatten().map(|shape| Shape {
                    always: field.always && shape.always,
                    ..shape
                }));
                continue;
            }
        };
        all.push(Shape {
            key: field.key,
            label: field.label,
            short: field.short,
            about: field.about,
            always: field.always,
            form,
        });
    }
    all
}

#[cfg(test)]
mod tests {
    use super::super::rows::fields;
    use super::*;

    #[derive(Clone)]
    struct Gauge {
        pressure: f64,
    }

    struct Panel {
        gauges: Vec<Gauge>,
        power: Option<f64>,
    }

    fields! {
    Gauge {
        pressure_pa = AbsolutePressure "pressure", "What it shows." |g| g.pressure;
    }
    Panel {
        gauges = each "gauges", "All of them." |p| &p.gauges;
        bsfc_g_kwh ? SpecificFuelConsumption "BSFC", "Fuel over work." |p| p.power;
    }
    }

    fn panel(pressure: f64) -> Panel {
        let gauges = vec![Gauge { pressure: 1e5 }, Gauge { pressure }];
        Panel {
            gauges,
            power: None,
        }
    }

    #[test]
    fn a_number_that_is_not_finite_is_refused_with_its_place() {
        for wrong in [f64::NAN, f64::INFINITY] {
            let fault = panel(wrong).object().unwrap_err();
            assert_eq!(fault, NotFinite("gauges[1].pressure_pa".to_owned()));
        }
    }

    #[test]
    fn rows_keep_their_order_and_what_does_not_exist_is_left_out() {
        let bare = Value::Object(panel(2e5).object().unwrap());
        let text = r#"{"gauges":[{"pressure_pa":100000.0},{"pressure_pa":200000.0}]}"#;
        assert_eq!(bare.to_string(), text);
        let power = Some(200.0 / G_KWH);
        let full = Panel {
            power,
            ..panel(2e5)
        }
        .object()
        .unwrap();
        assert_eq!(full["bsfc_g_kwh"], 200.0);
    }
}
