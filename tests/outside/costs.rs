//! What boost costs, against the outside: textbooks for mean pressures and consumption, CoolProp for
//! evaporating alcohol, published ranges for whole builds, and the energy list at every match of them.

use crate::table;
use std::f64::consts::PI;
use std::fs;
use std::path::Path;

use airpath::engine::{Engine, Evaporation, FuelKind};
use airpath::gas::HumidAir;
use airpath::input::{self, Document, Override};
use airpath::matching::{Installation, Match, Solver, StationPlace};
use airpath::study;
use approx::assert_relative_eq;
use table::{Deviations, rows};

/// An installation from a build of the tests (the empty name is the demo) with changed values.
fn installation(name: &str, set: &[(&str, &str)]) -> Installation {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let document = if name.is_empty() {
        Document::from_text("demo", input::DEMO)
    } else {
        let text = fs::read_to_string(root.join("tests/builds").join(name)).unwrap();
        Document::from_text(name, &text)
    };
    let overrides: Vec<Override> = set
        .iter()
        .map(|(key, value)| Override::parse(&format!("{key}={value}")).unwrap())
        .collect();
    let outcome = input::read(&document, &overrides, &|_| {
        input::map_file::read(input::STARTER_MAP_NAME, input::STARTER_MAP.as_bytes())
            .map(std::sync::Arc::new)
    });
    let faults = outcome.faults;
    outcome
        .installation
        .unwrap_or_else(|| panic!("{name}: {faults:?}"))
}

/// Every match of a line; all speeds have one.
fn line(installation: &Installation) -> Vec<Match> {
    let line = study::run(installation).unwrap();
    let matches = line.points.into_iter().map(|point| {
        point
            .outcome
            .unwrap_or_else(|fault| panic!("{}: {fault:?}", installation.title))
    });
    matches.collect()
}

const BUILDS: [&str; 4] = [
    "",
    "petrol_screw.toml",
    "marine_diesel.toml",
    "methanol_sprint.toml",
];

/// The balances are met to 1e-9, and so is the list: the latent heat taken ahead of the valves of
/// the methanol engine comes back in its cylinders.
#[test]
fn the_energy_list_closes_at_every_match_of_four_builds() {
    for name in BUILDS {
        let installation = installation(name, &[]);
        let mut worst = 0.0_f64;
        for found in line(&installation) {
            let energy = found.energy.expect("all powers are known");
            worst = worst.max(energy.imbalance().abs());
        }
        println!("{name}: {worst:.1e}");
        assert!(worst < 1e-9, "{name}: {worst:e}");
    }
}

/// With the shares of the fuel's heat given, the exhaust's energy is what is left of fuel and air, so
/// that fuel which cools the charge on its way in leaves the same exhaust enthalpy per kilogram, to
/// what the colder and denser charge does to the pumping.
#[test]
fn heat_taken_from_the_charge_comes_back_in_the_exhaust() {
    let exhaust = |share: &str| {
        let set = [
            ("fuel.evaporated_before_manifold", share),
            ("turbine.wastegate", ""),
        ];
        let installation = installation("methanol_sprint.toml", &set);
        let mut solver = Solver::new(&installation).unwrap();
        let mut found = Match::default();
        solver.solve(2500.0, &mut found).unwrap();
        let place = solver
            .layout()
            .stations
            .iter()
            .position(|s| s.place == StationPlace::TurbineInlet(0))
            .unwrap();
        (found.stations[place].temperature, found)
    };
    let (dry, without) = exhaust("0");
    let (wet, with) = exhaust("0.2");
    let cooling = with.fuel.unwrap().charge_cooling.unwrap();
    assert!(cooling > 25.0, "{cooling}");
    assert!(without.fuel.unwrap().evaporated.is_none());
    // Lost heat would show as the charge's cooling: 30 K and more.
    assert!((dry - wet).abs() < 0.15 * cooling, "{dry} K and {wet} K");
    assert!(with.air_mass_flow > without.air_mass_flow);
}

/// One heat capacity stands for the vapour's between 5 and 80 °C, within 7 %: on 50 K at most half a
/// per cent of the heat. Methanol's molecules cling together in saturated vapour: thinned out they hold
/// 1.4 % more than the heat of evaporation at 25 °C says. Rounding 0.1 %.
#[test]
fn alcohol_cools_air_as_coolprop_has_it() {
    let gas = HumidAir::dry().gas();
    let mut all = Deviations::of("charge cooled by alcohol");
    for row in rows("evaporation.csv") {
        let kind = match row.text("fuel") {
            "methanol" => FuelKind::Methanol,
            _ => FuelKind::Ethanol,
        };
        let share = row.number("share");
        let air = row.number("air_temperature_k");
        let evaporation = Evaporation {
            share,
            volatility: kind.volatility().unwrap(),
        };
        let state = (100e3, air, gas.enthalpy(air).unwrap());
        let there = evaporation
            .into_air(&gas, state, row.number("fuel_air_ratio"))
            .unwrap();
        let right = row.number("charge_temperature_k");
        let place = format!("{} {air} K, {share}", row.text("fuel"));
        all.compare(&place, there.temperature, right, 0.02 * (air - right));
    }
    all.finish();
}

/// Latent heat at 25 °C to its last digit; the vapour pressure's straight line in 1/T from there
/// within 6 % between 0 and 60 °C.
#[test]
fn alcohols_evaporate_as_coolprop_has_it() {
    let mut all = Deviations::of("vapour pressure of alcohols");
    for row in rows("vapour.csv") {
        let kind = match row.text("fuel") {
            "methanol" => FuelKind::Methanol,
            _ => FuelKind::Ethanol,
        };
        let fuel = kind.volatility().unwrap();
        let t = row.number("temperature_k");
        let pressure = row.number("vapour_pressure_pa");
        let found = fuel.vapour_pressure_at(t);
        let place = format!("{} {t} K", row.text("fuel"));
        all.compare(&place, found, pressure, 0.06 * pressure);
        if (t - 298.15).abs() < 1e-9 {
            let latent = row.number("latent_heat_j_kg");
            assert_relative_eq!(fuel.latent_heat, latent, epsilon = 5e3);
            assert_relative_eq!(found, pressure, max_relative = 1e-3);
        }
    }
    all.finish();
}

/// A four-stroke of which only the size and the stroke count here.
fn engine(set: &[(&str, &str)]) -> Engine {
    installation("single_roots.toml", set).engine
}

/// Pulkrabek, Engineering Fundamentals of the Internal Combustion Engine, examples 2-1 to 2-3
/// (numbers from memory, recomputed): a square 3 L V6 at 3600 rpm runs at 10.32 m/s; 205 N m are
/// 77.3 kW and 859 kPa; with a mechanical efficiency of 0.85 the indicated power is 90.9 kW, imep
/// 1010 kPa, friction 13.6 kW and 151 kPa; 0.0060 kg/s of fuel are 280 g/(kW h). Half of each last
/// digit.
#[test]
fn torque_mean_pressures_and_consumption_are_the_textbooks() {
    // Six cylinders of 0.5 L, bore and stroke alike: B³ = 4 V/π.
    let stroke = (4.0 * 0.5e-3 / PI).cbrt();
    let mut engine = engine(&[]);
    engine.displacement = 3e-3;
    engine.stroke = Some(stroke);
    assert_relative_eq!(
        engine.mean_piston_speed(3600.0).unwrap(),
        10.32,
        epsilon = 5e-3
    );
    let brake = 205.0 * 2.0 * PI * 60.0;
    let friction = 13.6e3;
    engine.friction.constant = friction / engine.swept_flow(3600.0);
    engine.friction.peak_pressure_share = 0.0;
    (engine.friction.linear, engine.friction.quadratic) = (0.0, 0.0);
    let crank = engine
        .crank_power(brake + friction, 0.0, 0.0, 100e3, 3600.0)
        .unwrap();
    assert_relative_eq!(crank.brake, 77.3e3, epsilon = 50.0);
    assert_relative_eq!(crank.torque, 205.0, max_relative = 1e-12);
    let mean = |power| engine.mean_effective_pressure(power, 3600.0);
    assert_relative_eq!(mean(crank.brake), 859e3, epsilon = 500.0);
    assert_relative_eq!(mean(crank.gross_indicated), 1010e3, epsilon = 500.0);
    assert_relative_eq!(mean(crank.friction), 151e3, epsilon = 500.0);
    assert_relative_eq!(crank.brake / crank.gross_indicated, 0.85, epsilon = 5e-4);
    let bsfc = 0.0060 * 3.6e9 / crank.brake;
    assert_relative_eq!(bsfc, 280.0, epsilon = 1.0);
}

/// Mathur and Sharma, Internal Combustion Engine, ex. 17.2 and 17.4 (companion): 250 kW from 23.8 L at
/// 1500 rpm are 8.4 bar; 147 N m at 2000 rpm from 3.817 L, over 0.75, are 6.45 bar. Half of the last
/// digit.
#[test]
fn mean_effective_pressures_are_the_textbooks() {
    let mut engine = engine(&[]);
    engine.displacement = 0.0238;
    assert_relative_eq!(
        engine.mean_effective_pressure(250e3, 1500.0),
        8.4e5,
        epsilon = 5e3
    );
    engine.displacement = 6.0 * PI / 4.0 * 0.09 * 0.09 * 0.10;
    let brake = 147.0 * 2000.0 * PI / 30.0;
    assert_relative_eq!(
        engine.mean_effective_pressure(brake / 0.75, 2000.0),
        6.45e5,
        epsilon = 500.0
    );
}

/// What a build's full load may look like.
struct Range {
    build: &'static str,
    /// g/(kW h).
    consumption: (f64, f64),
    /// Ahead of the turbine, °C.
    exhaust: (f64, f64),
    /// kPa.
    friction: (f64, f64),
}

/// Published ranges, from memory. Consumption: Heywood 1988, §2.8 (best of spark ignition about 270,
/// of diesels about 200 g/(kW h); full load and rich petrol above that). Exhaust: Heywood 1988, §6.5
/// and the trade's handbooks (spark ignition up to 900 °C and more at full load, blown diesels 500
/// to 750 °C). Friction: Heywood 1988, §13.5 and 13.6 (spark ignition 100 to 300 kPa, diesels 100 to
/// 300 kPa over their speeds).
#[test]
fn consumption_exhaust_and_friction_lie_in_published_ranges() {
    let ranges = [
        Range {
            build: "",
            consumption: (195.0, 250.0),
            exhaust: (500.0, 750.0),
            friction: (100.0, 300.0),
        },
        Range {
            build: "marine_diesel.toml",
            consumption: (195.0, 250.0),
            exhaust: (450.0, 700.0),
            friction: (90.0, 300.0),
        },
        Range {
            build: "petrol_screw.toml",
            consumption: (265.0, 350.0),
            exhaust: (650.0, 1000.0),
            friction: (90.0, 300.0),
        },
    ];
    for range in ranges {
        let installation = installation(range.build, &[]);
        let layout = Solver::new(&installation).unwrap().layout().clone();
        let inlet = layout
            .stations
            .iter()
            .position(|s| s.place == StationPlace::TurbineInlet(0))
            .unwrap();
        for found in line(&installation) {
            let engine = &found.engine;
            let within = |what: &str, value: f64, (low, high): (f64, f64)| {
                assert!(
                    (low..=high).contains(&value),
                    "{} {} rpm: {what} {value}",
                    range.build,
                    found.rpm
                );
            };
            let consumption = engine.specific_consumption.unwrap() * 3.6e9;
            within("consumption", consumption, range.consumption);
            let celsius = found.stations[inlet].temperature - 273.15;
            within("exhaust", celsius, range.exhaust);
            let friction = engine.friction_power.unwrap() / engine.swept_flow / 1e3;
            within("friction", friction, range.friction);
        }
    }
}

/// The same builds with the friction that is usual for their kind stay in the range.
#[test]
fn usual_friction_lies_in_published_ranges_too() {
    for name in ["", "marine_diesel.toml", "petrol_screw.toml"] {
        let installation = installation(name, &[("engine.friction", "")]);
        for found in line(&installation) {
            let engine = &found.engine;
            let friction = engine.friction_power.unwrap() / engine.swept_flow / 1e3;
            assert!((80.0..320.0).contains(&friction), "{name}: {friction} kPa");
        }
    }
}
