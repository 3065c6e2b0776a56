//! What each output can hold, as a JSON Schema for programs that read it.

use serde_json::{Map, Value, json};

use super::output::Output;
use super::shape::{Form, Shape};
use crate::quantity::Kind;

/// The JSON Schema (draft 2020-12) of an output of `--format json`.
pub fn schema(output: Output) -> Value {
    let mut schema = Map::new();
    schema.insert(
        "$schema".to_owned(),
        json!("https://json-schema.org/draft/2020-12/schema"),
    );
    schema.insert(
        "title".to_owned(),
        json!(format!("airpath {}", output.name())),
    );
    schema.extend(object(&output.shapes()));
    Value::Object(schema)
}

/// An object of one of several forms.
fn one_of(forms: &[Vec<Shape>]) -> Map<String, Value> {
    if let [form] = forms {
        return object(form);
    }
    let forms = forms.iter().map(|form| Value::Object(object(form)));
    Map::from_iter([("anyOf".to_owned(), forms.collect())])
}

fn object(shapes: &[Shape]) -> Map<String, Value> {
    let always = shapes.iter().filter(|shape| shape.always);
    let required: Vec<Value> = always.map(|shape| json!(shape.key)).collect();
    let mut properties = Map::new();
    for shape in shapes {
        properties.insert(shape.key.to_owned(), Value::Object(property(shape)));
    }
    Map::from_iter([
        ("type".to_owned(), json!("object")),
        ("properties".to_owned(), Value::Object(properties)),
        ("required".to_owned(), Value::Array(required)),
        ("additionalProperties".to_owned(), json!(false)),
    ])
}

fn property(shape: &Shape) -> Map<String, Value> {
    let mut property = Map::new();
    let unit = shape.form.kind().and_then(si_unit);
    let about = match unit {
        Some(unit) => format!("{} Unit: {unit}.", shape.about),
        None => shape.about.to_owned(),
    };
    property.insert("description".to_owned(), json!(about));
    property.extend(match &shape.form {
        Form::Number(_) => typed(json!({"type": "number"})),
        Form::Range(_) => typed(json!({
            "type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2
        })),
        Form::Count => typed(json!({"type": "integer", "minimum": 0})),
        Form::Flag => typed(json!({"type": "boolean"})),
        Form::Text => typed(json!({"type": "string"})),
        Form::Texts => typed(json!({"type": "array", "items": {"type": "string"}})),
        Form::Object(forms) => one_of(forms),
        Form::List(forms) => typed(json!({"type": "array", "items": one_of(forms)})),
    });
    property
}

fn typed(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

/// The unit of a kind in JSON and CSV; none for a plain number.
pub(super) const fn si_unit(kind: Kind) -> Option<&'static str> {
    Some(match kind {
        Kind::AbsolutePressure => "Pa, absolute",
        Kind::BoostPressure => "Pa above the site's pressure",
        Kind::PressureDifference | Kind::MeanEffectivePressure => "Pa",
        Kind::Temperature | Kind::TemperatureDifference => "K",
        Kind::Volume | Kind::FuelVolume => "m³",
        Kind::Length => "m",
        Kind::Area => "m²",
        Kind::Mass | Kind::FuelPerStroke => "kg",
        Kind::MassFlow | Kind::FuelFlow | Kind::WaterFlow => "kg/s",
        Kind::VolumeFlow => "m³/s",
        Kind::Power => "W",
        Kind::RotationalSpeed => "rpm",
        Kind::Force | Kind::SmallForce => "N",
        Kind::SpecificEnergy => "J/kg",
        Kind::Density => "kg/m³",
        Kind::Velocity | Kind::SurfaceSpeed => "m/s",
        Kind::Angle => "rad",
        Kind::MassPerLength => "kg/m",
        Kind::Torque => "N·m",
        Kind::Time => "s",
        Kind::ThermalConductivity => "W/(m·K)",
        Kind::ThermalConductance => "W/K",
        Kind::SpecificFuelConsumption => "g/kWh",
        Kind::Share => "1 (a share: 0.05 is 5 %)",
        Kind::Number => return None,
    })
}
