//! What a key can be and usually is beside other keys: one function a relation.
//!
//! Sizes only, good to some ten per cent: R 287 J/(kg K), gamma 1.4, whole bars. The bounds leave
//! room for what is built, from model engines to ships (common practice), and say for what they hold.

use std::f64::consts::{FRAC_PI_4, PI};

use super::given::digits;
use super::scene::Scene;
use super::view::{AsWritten, density};
use crate::engine::typical::STUD_FRICTION;
use crate::input::keys::row::{Bounds, Range};

/// No piston runs faster, m/s (common practice: sprint engines come near 30).
pub(super) const FASTEST_PISTON: f64 = 40.0;
/// What racing engines reach, m/s.
const FAST_PISTON: f64 = 30.0;
/// A ship's piston at its slowest, m/s.
const SLOW_PISTON: f64 = 0.5;
/// Density of a charge at most, kg/m³: 8 bar at 50 °C.
const DENSEST_CHARGE: f64 = 8.6;
/// Of a strong charge: 4 bar at 60 °C.
const DENSE_CHARGE: f64 = 4.2;
/// Of an engine that breathes thin air high up.
const THIN_CHARGE: f64 = 0.7;
/// The richest mixture that burns to gas at all, and the leanest that any engine runs on.
const LAMBDAS: (f64, f64) = (0.3, 20.0);
/// ψ of a choked nozzle, gamma 1.33.
const CHOKED: f64 = 0.67;
/// Exhaust as a turbine meets it, K.
const HOT: f64 = 950.0;

fn bounds(can: (f64, f64), usual: (f64, f64), of: String) -> Option<Bounds> {
    let range = |(low, high): (f64, f64)| Range::new(low, high);
    let all = [can.0, can.1, usual.0, usual.1];
    let sound = all.iter().all(|end| !end.is_nan()) && usual.0 <= usual.1;
    sound.then(|| Bounds {
        can: range(can),
        usual: range(usual),
        of,
    })
}

fn litres(volume: f64) -> String {
    match 1e3 * volume {
        litres if litres < 0.1 => format!("{} cc", digits(1e6 * volume)),
        litres => format!("{} L", digits(litres)),
    }
}

fn millimetres(length: f64) -> String {
    format!("{} mm", digits(1e3 * length))
}

// ------------------------------------------------------------------------------------- the engine

pub(in crate::input) fn cylinder_volume(scene: &Scene<'_>) -> Option<Bounds> {
    let count = scene.beside("cylinders")?;
    bounds(
        (5e-8 * count, 3.0 * count),
        (1e-6 * count, 0.08 * count),
        format!("{count} cylinders"),
    )
}

/// Stroke of a cylinder whose bore is as long, m.
pub(super) fn square_stroke(cylinder: f64) -> f64 {
    (cylinder / FRAC_PI_4).cbrt()
}

/// Bore over stroke: 0.25 in ships, 2.4 in racing.
pub(in crate::input) fn stroke_of_volume(scene: &Scene<'_>) -> Option<Bounds> {
    let cylinder = scene.view.value("engine.displacement")? / scene.beside("cylinders")?;
    // s³ = 4 V/(π (b/s)²).
    let stroke = |bore_over_stroke: f64| square_stroke(cylinder) / bore_over_stroke.powf(2.0 / 3.0);
    bounds(
        (stroke(8.0), stroke(0.12)),
        (stroke(2.5), stroke(0.4)),
        format!("a cylinder of {}", litres(cylinder)),
    )
}

pub(in crate::input) fn bore_of_stroke(scene: &Scene<'_>) -> Option<Bounds> {
    let stroke = scene.beside("stroke")?;
    bounds(
        (0.12 * stroke, 8.0 * stroke),
        (0.4 * stroke, 2.5 * stroke),
        format!("a stroke of {}", millimetres(stroke)),
    )
}

pub(in crate::input) fn compression(scene: &Scene<'_>) -> Option<Bounds> {
    let (can, usual, name) = if scene.view.is_diesel()? {
        ((4.0, 40.0), (10.0, 24.0), "a diesel")
    } else {
        ((1.5, 30.0), (5.0, 18.0), "spark ignition")
    };
    bounds(can, usual, name.to_owned())
}

pub(in crate::input) fn piston_speed(scene: &Scene<'_>) -> Option<Bounds> {
    let written = scene.view.value("engine.stroke");
    let stroke = written.or_else(|| scene.view.cylinder().map(square_stroke))?;
    // A stroke that is only inferred can be half as long again, or two thirds.
    let slack = if written.is_some() { 1.0 } else { 1.5 };
    let rpm = |speed: f64| speed * 30.0 / stroke;
    bounds(
        (0.0, slack * rpm(FASTEST_PISTON)),
        (rpm(SLOW_PISTON) / slack, slack * rpm(FAST_PISTON)),
        format!("a stroke of {}", millimetres(stroke)),
    )
}

pub(in crate::input) fn sealed_bore(scene: &Scene<'_>) -> Option<Bounds> {
    let bore = scene.view.bore()?;
    bounds(
        (0.8 * bore, 2.5 * bore),
        (0.97 * bore, 1.35 * bore),
        format!("a bore of {}", millimetres(bore)),
    )
}

pub(in crate::input) fn stud_diameter(scene: &Scene<'_>) -> Option<Bounds> {
    let bore = scene.view.bore()?;
    bounds(
        (0.015 * bore, 0.8 * bore),
        (0.06 * bore, 0.3 * bore),
        format!("a bore of {}", millimetres(bore)),
    )
}

/// The clamp of all studs of a cylinder over its bore: between 5 and 100 MPa.
pub(in crate::input) fn stud_preload(scene: &Scene<'_>) -> Option<Bounds> {
    let bore = scene.view.bore()?;
    let count = scene.beside("studs_per_cylinder")?;
    let force = |pressure: f64| pressure * FRAC_PI_4 * bore * bore / count;
    bounds(
        (force(0.2e6), force(1e9)),
        (force(4e6), force(1e8)),
        format!(
            "{} studs around a bore of {}",
            digits(count),
            millimetres(bore)
        ),
    )
}

/// T ≈ 0.2 F d (trade's rule), F at a stress over the thread's core, 0.85 d wide.
pub(in crate::input) fn stud_torque(scene: &Scene<'_>) -> Option<Bounds> {
    let d = scene.beside("stud_diameter")?;
    let torque = |stress: f64| 0.2 * d * stress * FRAC_PI_4 * (0.85 * d).powi(2);
    bounds(
        (torque(1e6), torque(3e9)),
        (torque(100e6), torque(1.2e9)),
        format!("a stud of {}", millimetres(d)),
    )
}

pub(in crate::input) fn stud_pitch(scene: &Scene<'_>) -> Option<Bounds> {
    let d = scene.beside("stud_diameter")?;
    bounds(
        (0.01 * d, 0.5 * d),
        (0.04 * d, 0.22 * d),
        format!("a stud of {}", millimetres(d)),
    )
}

/// Smallest and largest stud friction, as written or usual.
pub(super) fn stud_frictions(view: &AsWritten<'_>) -> (f64, f64) {
    let of = |key: &str, usual| view.value(&format!("engine.head.{key}")).unwrap_or(usual);
    (
        of("smallest_stud_friction", STUD_FRICTION.0),
        of("largest_stud_friction", STUD_FRICTION.1),
    )
}

// --------------------------------------------------------------------------------------- the fuel

/// The range of lambda at full load by kind of engine.
fn usual_lambdas(view: &AsWritten<'_>) -> (f64, f64, &'static str) {
    match view.is_diesel() {
        Some(true) => (1.0, 6.0, "a diesel"),
        Some(false) => (0.5, 1.6, "spark ignition"),
        None => (0.5, 6.0, "this fuel"),
    }
}

pub(in crate::input) fn lambda(scene: &Scene<'_>) -> Option<Bounds> {
    let (rich, lean, name) = usual_lambdas(scene.view);
    bounds(LAMBDAS, (rich, lean), name.to_owned())
}

pub(in crate::input) fn air_fuel_ratio(scene: &Scene<'_>) -> Option<Bounds> {
    let (rich, lean, name) = usual_lambdas(scene.view);
    let full = scene.view.stoichiometric()?;
    bounds(
        (LAMBDAS.0 * full, LAMBDAS.1 * full),
        (rich * full, lean * full),
        format!("{name} with {} of air to burn 1 of fuel", digits(full)),
    )
}

/// Fuel that a volume of air burns, kg/m³: the least and most that can be, the least and most that
/// is usual at full load.
fn burned(view: &AsWritten<'_>) -> Option<(f64, f64, f64, f64)> {
    let full = view.stoichiometric()?;
    let (rich, _, _) = usual_lambdas(view);
    Some((
        0.5 * THIN_CHARGE / (60.0 * full),
        DENSEST_CHARGE / (LAMBDAS.0 * full),
        THIN_CHARGE / (3.0 * full),
        DENSE_CHARGE / (rich * full),
    ))
}

pub(in crate::input) fn fuel_per_stroke(scene: &Scene<'_>) -> Option<Bounds> {
    let cylinder = scene.view.cylinder()?;
    let (least, most, low, high) = burned(scene.view)?;
    bounds(
        (least * cylinder, most * cylinder),
        (low * cylinder, high * cylinder),
        format!("a cylinder of {}", litres(cylinder)),
    )
}

pub(in crate::input) fn fuel_flow(scene: &Scene<'_>) -> Option<Bounds> {
    let view = scene.view;
    let (least, most, low, high) = burned(view)?;
    let volume = |rpm: f64| Some(view.displacement()? * view.cycles() * rpm / 60.0);
    let own = scene.given.speed(scene.row);
    let slow = volume(own.or(view.value("engine.rpm.from"))?)?;
    let fast = volume(own.or(view.top_speed())?)?;
    bounds(
        (least * slow, most * fast),
        (low * slow, high * fast),
        format!("an engine of {}", litres(view.displacement()?)),
    )
}

pub(in crate::input) fn injectors(scene: &Scene<'_>) -> Option<Bounds> {
    let cylinders = scene.view.value("engine.cylinders")?;
    bounds(
        (0.0, f64::INFINITY),
        (1.0, 6.0 * cylinders),
        format!("{} cylinders", digits(cylinders)),
    )
}

/// All injectors together, standing open, against what the engine burns at its top speed.
pub(in crate::input) fn injector_flow(scene: &Scene<'_>) -> Option<Bounds> {
    let view = scene.view;
    let count = scene.beside("injectors")?;
    let (least, most, low, high) = burned(view)?;
    let volume = view.displacement()? * view.cycles() * view.top_speed()? / 60.0;
    let each = |fuel: f64| fuel * volume / count;
    bounds(
        (each(0.1 * least), each(30.0 * most)),
        (each(low), each(10.0 * high)),
        format!(
            "{} injectors on an engine of {}",
            digits(count),
            litres(view.displacement()?)
        ),
    )
}

// --------------------------------------------------------------------------- parts that lose pressure

/// Flow at which a rated drop would be a given pressure at the engine's own flow.
fn rated_where(scene: &Scene<'_>, flow: f64, hot: f64, drop_there: f64) -> Option<f64> {
    let (site_pressure, site_temperature) = scene.view.outside();
    let drop = scene.beside("pressure_drop")?;
    let rated = density(
        scene.beside("at_pressure").unwrap_or(101_325.0),
        scene.beside("at_temperature").unwrap_or(293.15),
    );
    // Δp = drop (flow/at_flow)² rated/actual density.
    let actual = density(site_pressure, site_temperature.max(hot));
    Some(flow * (drop / drop_there * rated / actual).sqrt())
}

/// A part that passes the engine's air. A drop of a quarter of the air's pressure is where a hole of
/// that size chokes; of ten times the pressure, the engine would get a quarter of its air.
fn passing(scene: &Scene<'_>, hot: f64, least: impl Fn(f64) -> f64) -> Option<Bounds> {
    let flow = scene.view.flow()?;
    let (pressure, _) = scene.view.outside();
    let chokes = rated_where(scene, flow, hot, 0.25 * pressure)?;
    let starves = rated_where(scene, flow, hot, 10.0 * pressure)?;
    bounds(
        (least(starves), f64::INFINITY),
        (chokes.max(0.05 * flow).min(20.0 * flow), 20.0 * flow),
        engine_flow(flow),
    )
}

fn engine_flow(flow: f64) -> String {
    format!("an engine that draws {} kg/s unboosted", digits(flow))
}

pub(in crate::input) fn rated_flow(scene: &Scene<'_>) -> Option<Bounds> {
    passing(scene, 0.0, |least| least)
}

/// A throttle may be nearly shut.
pub(in crate::input) fn throttled_flow(scene: &Scene<'_>) -> Option<Bounds> {
    passing(scene, 0.0, |_| 0.0)
}

/// Exhaust is hot wherever its drop was rated.
pub(in crate::input) fn exhaust_flow(scene: &Scene<'_>) -> Option<Bounds> {
    passing(scene, HOT, |least| least)
}

/// By the air's speed at the engine's own flow, m/s: it chokes near 300.
pub(in crate::input) fn duct_diameter(scene: &Scene<'_>) -> Option<Bounds> {
    let flow = scene.view.flow()?;
    let volume = flow / scene.view.density();
    let diameter = |speed: f64| (volume / (FRAC_PI_4 * speed)).sqrt();
    bounds(
        (diameter(3000.0), f64::INFINITY),
        (diameter(200.0), diameter(1.0)),
        engine_flow(flow),
    )
}

// ------------------------------------------------------------------------------- the supercharger

fn is_wheel(scene: &Scene<'_>) -> bool {
    scene
        .word("kind")
        .is_some_and(|kind| kind.eq_ignore_ascii_case("centrifugal"))
}

pub(in crate::input) fn drive_ratio(scene: &Scene<'_>) -> Option<Bounds> {
    if is_wheel(scene) {
        return bounds((0.5, 100.0), (2.0, 50.0), "a centrifugal wheel".to_owned());
    }
    bounds(
        (0.05, 20.0),
        (0.7, 5.0),
        "positive-displacement rotors".to_owned(),
    )
}

/// The supercharger's pulley beside the crank's: it is the smaller one, or nearly.
pub(in crate::input) fn driven_pulley(scene: &Scene<'_>) -> Option<Bounds> {
    let crank = scene.beside("crank_pulley_diameter")?;
    let gear = scene.beside("gear_ratio").unwrap_or(1.0);
    let (least, most) = if is_wheel(scene) {
        (2.0, 50.0)
    } else {
        (0.7, 5.0)
    };
    bounds(
        (crank * gear / 100.0, 20.0 * crank * gear),
        (crank * gear / most, crank * gear / least),
        format!("a crank pulley of {}", millimetres(crank)),
    )
}

/// A belt runs at 60 m/s at most, a toothed one hardly above 80.
pub(in crate::input) fn belt_speed(scene: &Scene<'_>) -> Option<Bounds> {
    let rpm = scene.view.top_speed()?;
    let diameter = |speed: f64| speed * 60.0 / (PI * rpm);
    bounds(
        (0.0, diameter(250.0)),
        (diameter(3.0), diameter(75.0)),
        format!("a belt at {} rpm", digits(rpm)),
    )
}

/// Drive ratio as written, or of the pulleys.
fn ratio(scene: &Scene<'_>) -> Option<f64> {
    scene.beside("drive_ratio").or_else(|| {
        let pulleys = scene.beside("crank_pulley_diameter")? / scene.beside("pulley_diameter")?;
        Some(pulleys * scene.beside("gear_ratio").unwrap_or(1.0))
    })
}

/// What the rotors sweep over what the engine swallows, turn by turn.
pub(in crate::input) fn sweep(scene: &Scene<'_>) -> Option<Bounds> {
    let engine = scene.view.displacement()?;
    let ratio = ratio(scene)?;
    let swept = |share: f64| share * engine * scene.view.cycles() / ratio;
    bounds(
        (swept(0.02), swept(40.0)),
        (swept(0.35), swept(5.0)),
        format!(
            "an engine of {} and a drive ratio of {}",
            litres(engine),
            digits(ratio)
        ),
    )
}

/// 175 rpm × (2 L/displacement)^(1/3), from memory; worn or tight by three.
pub(in crate::input) fn slip_speed(scene: &Scene<'_>) -> Option<Bounds> {
    let swept = scene.beside("displacement")?;
    let usual = 175.0 * (2e-3 / swept).cbrt();
    bounds(
        (0.0, 40.0 * usual),
        (0.2 * usual, 4.0 * usual),
        format!("rotors of {}", litres(swept)),
    )
}

/// The fastest that the belt turns it.
pub(in crate::input) fn shaft_speed(scene: &Scene<'_>) -> Option<Bounds> {
    let slowest = scene.view.value("engine.rpm.from")? * ratio(scene)?;
    let fastest = scene.view.top_speed()? * ratio(scene)?;
    bounds(
        (0.0, f64::INFINITY),
        (slowest, 20.0 * fastest),
        format!(
            "a shaft that the belt turns at {} to {} rpm",
            digits(slowest),
            digits(fastest)
        ),
    )
}

pub(in crate::input) fn tip_speed(scene: &Scene<'_>) -> Option<Bounds> {
    let rpm = scene.view.top_speed()? * ratio(scene)?;
    let diameter = |speed: f64| speed * 60.0 / (PI * rpm);
    let usual = if is_wheel(scene) { 600.0 } else { 170.0 };
    bounds(
        (0.0, diameter(900.0)),
        (diameter(8.0), diameter(usual)),
        format!("rotors at {} rpm", digits(rpm)),
    )
}

/// Of a given ratio: rotors without compression inside reach the textbook's efficiency at most
/// (Eastop and McConkey): γ/(γ−1) (r^((γ−1)/γ) − 1)/(r − 1).
pub(in crate::input) fn roots_efficiency(scene: &Scene<'_>) -> Option<Bounds> {
    let is_roots = scene
        .word("kind")
        .is_some_and(|kind| kind.eq_ignore_ascii_case("roots"));
    let section = scene.given.key.rsplit_once('.')?.0;
    let given = scene.view.given(&format!("{section}.pressure_ratio"))?;
    let r = given.at(scene.given.speed(scene.row))?;
    if !is_roots || r <= 1.0 {
        return None;
    }
    let ideal = 3.5 * (r.powf(1.0 / 3.5) - 1.0) / (r - 1.0);
    bounds(
        (0.0, ideal),
        (0.0, ideal),
        format!("a Roots machine at a pressure ratio of {}", digits(r)),
    )
}

// -------------------------------------------------------------------------------------- the cooler

/// What cools a charge flow: about as much air, or a fifth as much water, and up to many times that.
fn cooling(charge: f64, of: String) -> Option<Bounds> {
    bounds(
        (1e-3 * charge, 1e4 * charge),
        (0.05 * charge, 60.0 * charge),
        of,
    )
}

pub(in crate::input) fn sink_flow(scene: &Scene<'_>) -> Option<Bounds> {
    let flow = scene.view.flow()?;
    cooling(flow, engine_flow(flow))
}

pub(in crate::input) fn rated_charge(scene: &Scene<'_>) -> Option<Bounds> {
    let flow = scene.view.flow()?;
    bounds(
        (1e-3 * flow, 1e3 * flow),
        (0.1 * flow, 20.0 * flow),
        engine_flow(flow),
    )
}

pub(in crate::input) fn rated_sink(scene: &Scene<'_>) -> Option<Bounds> {
    let charge = scene.beside("charge_flow")?;
    cooling(charge, format!("a charge of {} kg/s", digits(charge)))
}

/// Of the heat that the charge brings above the sink: its share is the effectiveness.
pub(in crate::input) fn rated_heat(scene: &Scene<'_>) -> Option<Bounds> {
    const HEAT_CAPACITY: f64 = 1010.0;
    let charge = scene.beside("charge_flow")?;
    let above = scene.beside("charge_inlet_temperature")? - scene.beside("sink_temperature")?;
    let most = HEAT_CAPACITY * charge * above;
    if most <= 0.0 {
        return None;
    }
    bounds(
        (0.0, f64::INFINITY),
        (0.2 * most, 0.97 * most),
        format!(
            "a charge of {} kg/s, {} K above the sink",
            digits(charge),
            digits(above)
        ),
    )
}

// ------------------------------------------------------------------------------------ the turbine

/// The nozzle that chokes with the engine's unboosted flow as exhaust.
fn own_nozzle(scene: &Scene<'_>) -> Option<f64> {
    let (pressure, _) = scene.view.outside();
    Some(scene.view.flow()? * (287.0 * HOT).sqrt() / (CHOKED * pressure))
}

pub(in crate::input) fn turbine_area(scene: &Scene<'_>) -> Option<Bounds> {
    let own = own_nozzle(scene)?;
    bounds(
        (0.02 * own, 50.0 * own),
        (0.15 * own, 5.0 * own),
        engine_flow(scene.view.flow()?),
    )
}

/// The same as a corrected flow, m √(R T_ref)/p_ref = A ψ.
pub(in crate::input) fn choked_flow(scene: &Scene<'_>) -> Option<Bounds> {
    let own = own_nozzle(scene)?;
    let temperature = scene.beside("reference_temperature")?;
    let pressure = scene.beside("reference_pressure")?;
    let flow = |share: f64| share * own * CHOKED * pressure / (287.0 * temperature).sqrt();
    bounds(
        (flow(0.02), flow(50.0)),
        (flow(0.15), flow(5.0)),
        engine_flow(scene.view.flow()?),
    )
}

// ------------------------------------------------------------------------------------- the limits

/// A limit below what the wastegate holds is passed wherever the gate holds.
pub(in crate::input) fn above_the_gate(scene: &Scene<'_>) -> Option<Bounds> {
    let gate = scene.view.given("turbine.wastegate.boost_limit")?;
    let (site, _) = scene.view.outside();
    let held = site + gate.largest();
    bounds(
        (0.0, f64::INFINITY),
        (held, f64::INFINITY),
        format!(
            "a wastegate that holds {} above ambient (a limit is absolute)",
            gate.show(0, gate.largest())
        ),
    )
}
