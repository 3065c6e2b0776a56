//! Mass and energy over every part of random builds with given stages: what flows in flows out, a
//! stage's power and a cooler's heat are the enthalpy that the air gains and loses, ratios multiply.

use airpath::gas::{Gas, HumidAir};
use airpath::input::{self, Document};
use airpath::matching::{Installation, Match, Solver};
use proptest::prelude::*;

/// A part of a random air path, in the words of a build.
#[derive(Debug, Clone)]
enum Drawn {
    Loss(&'static str, f64),
    Stage(&'static str, f64, f64),
    Cooler(f64, f64),
}

fn part() -> impl Strategy<Value = Drawn> {
    let losses = prop_oneof![Just("filter"), Just("duct"), Just("throttle")];
    let stages = prop_oneof![Just("supercharger"), Just("turbo_compressor")];
    prop_oneof![
        (losses, 0.0..4.0).prop_map(|(word, drop)| Drawn::Loss(word, drop)),
        (stages, 0.9..2.4, 0.45..0.85).prop_map(|(word, pr, eta)| Drawn::Stage(word, pr, eta)),
        (0.3..0.95, 0.0..6.0).prop_map(|(share, drop)| Drawn::Cooler(share, drop)),
    ]
}

/// Up to six parts, at most three of them stages.
fn air_path() -> impl Strategy<Value = Vec<Drawn>> {
    prop::collection::vec(part(), 0..7).prop_filter("three stages at most", |parts| {
        parts
            .iter()
            .filter(|part| matches!(part, Drawn::Stage(..)))
            .count()
            <= 3
    })
}

fn text_of(parts: &[Drawn], humidity: f64) -> String {
    let mut text = format!(
        "title = \"drawn\"\n[site]\npressure = \"95 kPa\"\ntemperature = \"22 degC\"\n\
         relative_humidity = {humidity}\n[engine]\ndisplacement = \"4 L\"\nstrokes = 4\n\
         volumetric_efficiency = 0.88\nrpm = {{ from = 2000, to = 2000, step = 100 }}\n"
    );
    for part in parts {
        text.push_str("[[air_path]]\n");
        text.push_str(&match part {
            Drawn::Loss(word, drop) => format!(
                "part = \"{word}\"\npressure_drop = \"{drop} kPa\"\nat_flow = \"0.3 kg/s\"\n"
            ),
            Drawn::Stage(word, ratio, efficiency) => {
                format!("part = \"{word}\"\npressure_ratio = {ratio}\nefficiency = {efficiency}\n")
            }
            Drawn::Cooler(share, drop) => format!(
                "part = \"cooler\"\neffectiveness = {share}\npressure_drop = \"{drop} kPa\"\n\
                 at_flow = \"0.3 kg/s\"\n"
            ),
        });
    }
    text
}

fn read(text: &str) -> Installation {
    let outcome = input::read(&Document::from_text("drawn", text), &[], &|_| {
        Err(Vec::new())
    });
    outcome
        .installation
        .unwrap_or_else(|| panic!("{:?} in\n{text}", outcome.faults))
}

/// The match, the names of its stations, and the site's gas.
fn solved(installation: &Installation) -> (Match, Vec<String>, Gas) {
    let mut solver = Solver::new(installation).unwrap();
    let mut found = Match::default();
    solver.solve(2000.0, &mut found).unwrap();
    let names = solver
        .layout()
        .stations
        .iter()
        .map(|station| station.name.clone());
    let site = &installation.site;
    let air = HumidAir::new(site.pressure, site.temperature, site.relative_humidity).unwrap();
    (found, names.collect(), air.gas())
}

/// What the stations say of one stage or cooler: the state before and after it.
fn station(found: &Match, names: &[String], name: &str) -> (f64, f64, f64) {
    let place = names
        .iter()
        .position(|other| other == name)
        .unwrap_or_else(|| panic!("{name}"));
    let state = &found.stations[place];
    (state.pressure, state.temperature, state.mass_flow)
}

/// The name of the n-th of a kind.
fn numbered(word: &str, n: usize) -> String {
    if n == 0 {
        word.to_owned()
    } else {
        format!("{word} {}", n + 1)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn mass_energy_and_pressure_balance_over_every_part(parts in air_path(), humidity in 0.0..1.0) {
        let installation = read(&text_of(&parts, humidity));
        let (found, names, gas) = solved(&installation);
        let flow = found.air_mass_flow;
        prop_assert!(flow > 0.0);
        for state in &found.stations {
            prop_assert!((state.mass_flow / flow - 1.0).abs() < 1e-9);
            // Each state is one of the same gas.
            let density = gas.density(state.pressure, state.temperature);
            prop_assert!((state.density / density - 1.0).abs() < 1e-12);
        }
        let h = |t: f64| gas.enthalpy(t).unwrap();
        let (mut chargers, mut turbos, mut index) = (0, 0, 0);
        let mut power_in = 0.0;
        for part in &parts {
            let Drawn::Stage(word, ratio, efficiency) = part else { continue };
            let name = if *word == "supercharger" {
                chargers += 1;
                numbered("supercharger", chargers - 1)
            } else {
                turbos += 1;
                numbered("compressor", turbos - 1)
            };
            let (p1, t1, _) = station(&found, &names, &format!("{name} inlet"));
            let (p2, t2, _) = station(&found, &names, &format!("{name} outlet"));
            let stage = &found.stages[index];
            index += 1;
            prop_assert!((p2 / p1 / ratio - 1.0).abs() < 1e-9, "{name}");
            prop_assert!((stage.pressure_ratio / ratio - 1.0).abs() < 1e-12);
            // A hundredth of a joule per kilogram is the last digits of the temperature.
            prop_assert!((stage.power_to_air - flow * (h(t2) - h(t1))).abs() < 0.01 * flow);
            // The isentropic rise over the actual one is the efficiency given.
            let s2 = gas.entropy(t1).unwrap() + gas.gas_constant() * ratio.ln();
            let t2s = gas.temperature_at_entropy(s2, t1).unwrap();
            prop_assert!((h(t2s) - h(t1) - efficiency * (h(t2) - h(t1))).abs() < 0.01);
            power_in += stage.power_to_air;
        }
        let total: f64 = found.stages.iter().map(|stage| stage.pressure_ratio).product();
        let given: f64 = parts.iter().map(|p| if let Drawn::Stage(_, r, _) = p { *r } else { 1.0 }).product();
        prop_assert!((total / given - 1.0).abs() < 1e-12);
        let heat_out: f64 = found.coolers.iter().map(|cooler| cooler.heat).sum();
        let (_, outside, _) = station(&found, &names, "ambient");
        let (_, inside, _) = station(&found, &names, "manifold");
        // Power in less heat out is what the air carries into the engine.
        let carried = flow * (h(inside) - h(outside));
        prop_assert!((power_in - heat_out - carried).abs() < 0.05 * flow, "{power_in} {heat_out} {carried}");
        for residual in [found.residuals.flow, found.residuals.pressure] {
            prop_assert!(residual.abs() < 1e-9);
        }
    }

    #[test]
    fn without_losses_the_ratios_multiply_to_the_manifolds_pressure(parts in air_path()) {
        let lossless: Vec<_> = parts
            .iter()
            .map(|part| match part {
                Drawn::Loss(word, _) => Drawn::Loss(word, 0.0),
                Drawn::Cooler(share, _) => Drawn::Cooler(*share, 0.0),
                stage @ Drawn::Stage(..) => stage.clone(),
            })
            .collect();
        let (found, _, _) = solved(&read(&text_of(&lossless, 0.3)));
        let product: f64 = found.stages.iter().map(|stage| stage.pressure_ratio).product();
        prop_assert!((found.manifold_pressure / 95e3 / product - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_outlet_grows_hotter_with_the_ratio_and_cooler_with_efficiency(
        ratio in 1.05..3.5_f64, more in 1.01..1.5_f64, efficiency in 0.4..0.9_f64, better in 1.01..1.1_f64,
    ) {
        let outlet = |ratio, efficiency| {
            let stage = [Drawn::Stage("turbo_compressor", ratio, efficiency)];
            let (found, names, _) = solved(&read(&text_of(&stage, 0.5)));
            station(&found, &names, "compressor outlet").1
        };
        let t = outlet(ratio, efficiency);
        prop_assert!(outlet(ratio * more, efficiency) > t);
        prop_assert!(outlet(ratio, efficiency * better) < t);
    }

    #[test]
    fn the_order_of_the_keys_does_not_matter(parts in air_path(), seed in 0_usize..1000) {
        let text = text_of(&parts, 0.4);
        // The lines of each table, turned round by a drawn count; the tables stay in order.
        let mut tables: Vec<Vec<&str>> = vec![Vec::new()];
        for line in text.lines() {
            if line.starts_with('[') {
                tables.push(vec![line]);
            } else {
                tables.last_mut().unwrap().push(line);
            }
        }
        let turned: Vec<String> = tables
            .into_iter()
            .map(|mut table| {
                let keys = &mut table[1..];
                if !keys.is_empty() {
                    let by = seed % keys.len();
                    keys.rotate_left(by);
                    if seed % 2 == 0 {
                        keys.reverse();
                    }
                }
                table.join("\n")
            })
            .collect();
        let (one, _, _) = solved(&read(&text));
        let (other, _, _) = solved(&read(&turned.join("\n")));
        prop_assert_eq!(one.air_mass_flow.to_bits(), other.air_mass_flow.to_bits());
        prop_assert_eq!(one.manifold_pressure.to_bits(), other.manifold_pressure.to_bits());
    }
}
