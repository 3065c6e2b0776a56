//! Effectiveness and transfer units against `ht` (tests/reference/effectiveness.csv), a printed
//! table and worked examples of textbooks.

#[cfg(test)]
use crate::table;
use airpath::air_path::{Arrangement, Side};
use approx::assert_relative_eq;
use table::{Deviations, rows};

/// What the table's names mean here; the closed form is no arrangement of its own.
fn arrangement(name: &str) -> Option<(Arrangement, Side)> {
    match name {
        "counterflow" => Some((Arrangement::Counterflow, Side::Charge)),
        "crossflow_unmixed_exact" => Some((Arrangement::CrossflowUnmixed, Side::Charge)),
        "crossflow_cmax_mixed" => Some((Arrangement::ChargeMixed, Side::Sink)),
        "crossflow_cmin_mixed" => Some((Arrangement::ChargeMixed, Side::Charge)),
        _ => None,
    }
}

/// 1e-6 is required; the same formulas and an exact integral agree to the ten printed digits.
#[test]
fn the_effectiveness_of_every_arrangement_is_that_of_the_library() {
    let mut all = Deviations::of("effectiveness");
    for row in rows("effectiveness.csv") {
        let Some((arrangement, side)) = arrangement(row.text("arrangement")) else {
            continue;
        };
        let (n, c) = (row.number("ntu"), row.number("capacity_ratio"));
        let found = arrangement.effectiveness(n, c, side);
        let place = format!("{} NTU {n}, C {c}", row.text("arrangement"));
        all.compare(&place, found, row.number("effectiveness"), 1e-9);
        // With the side's names exchanged the same exchanger is meant.
        let turned = match arrangement {
            Arrangement::ChargeMixed => Arrangement::SinkMixed,
            same => same,
        };
        let other = match side {
            Side::Charge => Side::Sink,
            Side::Sink => Side::Charge,
        };
        all.compare(&place, turned.effectiveness(n, c, other), found, 1e-15);
    }
    all.finish();
}

/// The table has five digits: half of the last.
#[test]
fn the_crossflow_table_is_met() {
    let mut all = Deviations::of("crossflow table");
    for row in rows("crossflow_table.csv") {
        let (n, c) = (row.number("ntu"), row.number("capacity_ratio"));
        for (column, arrangement, side) in [
            (
                "eff_unmixed_exact",
                Arrangement::CrossflowUnmixed,
                Side::Charge,
            ),
            ("eff_cmax_mixed", Arrangement::SinkMixed, Side::Charge),
            ("eff_cmin_mixed", Arrangement::SinkMixed, Side::Sink),
            ("eff_counterflow", Arrangement::Counterflow, Side::Charge),
        ] {
            let found = arrangement.effectiveness(n, c, side);
            all.compare(
                &format!("{column} {n} {c}"),
                found,
                row.number(column),
                5.1e-6,
            );
        }
    }
    all.finish();
}

/// 1 − exp(N^0.22/C (exp(−C N^0.78) − 1)) is what most books print for two unmixed sides. It is
/// not used here: over this grid it lies up to 0.009 above (NTU 3, C 0.5) and 0.019 below
/// (NTU 10, C 0.75) the exact answer.
#[test]
fn the_usual_closed_form_is_off_by_what_is_said_of_it() {
    let (mut above, mut below) = (0.0_f64, 0.0_f64);
    for row in rows("effectiveness.csv") {
        if row.text("arrangement") == "crossflow_unmixed_closed_form" {
            let (n, c) = (row.number("ntu"), row.number("capacity_ratio"));
            let exact = Arrangement::CrossflowUnmixed.effectiveness(n, c, Side::Charge);
            let off = row.number("effectiveness") - exact;
            (above, below) = (above.max(off), below.max(-off));
        }
    }
    assert_relative_eq!(above, 0.009, epsilon = 0.0005);
    assert_relative_eq!(below, 0.019, epsilon = 0.0005);
}

/// NTU 2 at equal, partly and not limited flows: values of `ht` and the exact double series, five
/// digits. Coolant at exactly 0 °C is a temperature like any other.
#[test]
fn equal_flows_and_an_endless_flow_need_no_division() {
    let of = |c| Arrangement::CrossflowUnmixed.effectiveness(2.0, c, Side::Charge);
    for (c, right) in [(1.0, 0.61425), (0.6, 0.70738), (0.0, 0.86466)] {
        assert_relative_eq!(of(c), right, epsilon = 5.1e-6);
    }
    let counterflow = Arrangement::Counterflow.effectiveness(2.0, 1.0, Side::Charge);
    assert_relative_eq!(counterflow, 0.66667, epsilon = 5.1e-6);
    assert_relative_eq!(120.0 - of(0.6) * 120.0, 35.11, epsilon = 0.005);
}

/// An endless cooler (NTU 40, C 0.25) leaves the charge at the coolant's temperature, not below;
/// for an effectiveness of 1 there is no finite size.
#[test]
fn an_endless_cooler_does_not_pass_the_coolant() {
    for arrangement in [Arrangement::CrossflowUnmixed, Arrangement::Counterflow] {
        let e = arrangement.effectiveness(40.0, 0.25, Side::Charge);
        assert!(140.0 - e * (140.0 - 31.0) >= 31.0 && e <= 1.0);
        let size = |wanted| arrangement.transfer_units(wanted, 0.25, Side::Charge);
        assert!(size(0.95).is_some_and(|n| n > 2.9 && n < 10.0));
        assert_eq!(size(1.0), None);
        assert_eq!(size(1.05), None);
    }
}

/// Incropera, example 11.3 (crossflow, both unmixed; from a companion notebook): hot 300 to 100 °C,
/// cold 35 to 125 °C, 1 kg/s of 4197 J/(kg K), U 100 W/(m² K). The book reads NTU 2.1 and 39.7 m²
/// from its chart; the exact answer is 2.08084 and 39.2998 m².
#[test]
fn incropera_11_3_finned_crossflow() {
    let cold = 4197.0;
    let hot = cold * (125.0 - 35.0) / (300.0 - 100.0);
    let effectiveness = (300.0 - 100.0) / (300.0 - 35.0);
    let n = Arrangement::CrossflowUnmixed.transfer_units(effectiveness, hot / cold, Side::Charge);
    assert_relative_eq!(n.unwrap_or(0.0), 2.08084, epsilon = 5.1e-6);
    assert_relative_eq!(n.unwrap_or(0.0) * hot / 100.0, 39.2998, epsilon = 1e-4);
}

/// Holman, example 10.7 (one side mixed; from a companion notebook): 5.2 kg/s of 1860 J/(kg K)
/// mixed, 130 to 110 °C; unmixed 15 to 85 °C; U 275 W/(m² K): 10.84 m² with a correction factor of
/// 0.97 read from a chart. The exact factor is 0.947, so that the exact area is 2.4 % larger.
/// Example 10.9, half the oil: NTU 2.162, effectiveness 0.8314, 131.7 kW.
#[test]
fn holman_10_7_and_10_9_crossflow_with_one_side_mixed() {
    let mixed = 5.2 * 1860.0;
    let unmixed = mixed * (130.0 - 110.0) / (85.0 - 15.0);
    let of = Arrangement::ChargeMixed;
    let n = of.transfer_units((85.0 - 15.0) / (130.0 - 15.0), unmixed / mixed, Side::Sink);
    let area = n.unwrap_or(0.0) * unmixed / 275.0;
    let counterflow = (45.0 - 95.0) / (45.0_f64 / 95.0).ln();
    let least = mixed * 20.0 / (275.0 * counterflow);
    assert_relative_eq!(least / 0.97, 10.8372, epsilon = 5e-4);
    assert_relative_eq!(least / area, 0.947, epsilon = 5e-4);
    let oil = 0.725 * 1900.0;
    let n = 275.0 * 10.83 / oil;
    assert_relative_eq!(n, 2.162, epsilon = 5e-4);
    let e = of.effectiveness(n, oil / mixed, Side::Sink);
    assert_relative_eq!(e, 0.8314, epsilon = 2e-4);
    assert_relative_eq!(e * oil * 115.0 / 1e3, 131.7, epsilon = 0.05);
}

/// Cengel, example 11.6 (radiator, both unmixed; from a companion notebook): water 0.6 kg/s of
/// 4195 J/(kg K) from 90 to 65 °C, air from 20 to 40 °C; 40 tubes of 5 mm and 0.65 m: U 3347
/// W/(m² K) with a correction factor of 0.97 from a chart, so that half of its last digit is 0.5 %.
#[test]
fn cengel_11_6_radiator() {
    let water = 0.6 * 4195.0;
    let air = water * (90.0 - 65.0) / (40.0 - 20.0);
    let e = (90.0 - 65.0) / (90.0 - 20.0);
    let n = Arrangement::CrossflowUnmixed.transfer_units(e, water / air, Side::Charge);
    let area = 40.0 * std::f64::consts::PI * 0.005 * 0.65;
    let u = n.unwrap_or(0.0) * water / area;
    assert_relative_eq!(u, 3347.0, max_relative = 0.006);
}
