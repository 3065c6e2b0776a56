//! The nozzle's flow function against `fluids` (tests/reference/nozzle.csv), turbines and
//! turbochargers against worked examples of textbooks.
//!
//! Left out, because the library has no gas of given constant cp and γ and knows total states
//! only: Arasu, Turbomachines, ex. 6.3 (gas of R 284.5, cp 1147, a static state), and of Dixon's
//! ex. 8.3 the flow angles.

#[cfg(test)]
#[cfg(test)]
use crate::{example, table};
use airpath::air_path::{AirState, compress};
use airpath::exhaust::{
    FlowLaw, Swallowing, Turbine, TurbineEfficiency, critical_ratio, flow_function, inlet_pressure,
};
use airpath::gas::{FuelFormula, Gas, GasError, HumidAir};
use airpath::map::{CorrectedFlow, CorrectedSpeed, Reference};
use approx::assert_relative_eq;
use example::answers;
use table::{Deviations, rows};

/// 1e-4 is required; `fluids` and the formula written a second time agree to ten printed digits.
#[test]
fn the_flow_function_is_that_of_an_isentropic_nozzle_and_chokes_where_it_should() {
    let mut all = Deviations::of("flow function");
    for row in rows("nozzle.csv") {
        let (gamma, ratio) = (row.number("gamma"), row.number("expansion_ratio"));
        let found = flow_function(gamma, ratio, FlowLaw::Nozzle);
        let place = format!("γ {gamma}, ratio {ratio}");
        all.compare(&place, found, row.number("psi_fluids"), 1e-4);
        all.compare(&place, found, row.number("psi_direct"), 1e-9);
        let choked = ratio >= critical_ratio(gamma);
        assert_eq!(choked, row.text("state") == "choked", "{place}");
    }
    all.finish();
}

/// Two throats in a row, each with half of the logarithm of the ratio, pass what one passes at the
/// square root of it: read from the same table.
#[test]
fn two_throats_pass_what_one_passes_at_the_root_of_the_ratio() {
    let mut all = Deviations::of("flow function of two throats");
    for row in rows("nozzle.csv") {
        let (gamma, ratio) = (row.number("gamma"), row.number("expansion_ratio"));
        let found = flow_function(gamma, ratio * ratio, FlowLaw::TwoThroats);
        let place = format!("γ {gamma}, ratio {ratio} twice");
        all.compare(&place, found, row.number("psi_fluids"), 1e-4);
    }
    all.finish();
}

/// The table's ψ times the ratio is the flow through an area against 1 Pa; 1e-4 of ψ moves the
/// pressure by 1e-4 where it is choked, and by less below.
#[test]
fn the_pressure_ahead_of_a_nozzle_is_that_of_the_table() {
    let mut all = Deviations::of("pressure ahead of a nozzle");
    for row in rows("nozzle.csv") {
        let (gamma, ratio) = (row.number("gamma"), row.number("expansion_ratio"));
        let flow = ratio * row.number("psi_fluids") * 100e3;
        let found = inlet_pressure(gamma, FlowLaw::Nozzle, flow, 100e3);
        all.compare(
            &format!("γ {gamma}, ratio {ratio}"),
            found,
            ratio * 100e3,
            10.0 * ratio,
        );
    }
    all.finish();
}

fn wheel(efficiency: f64) -> Turbine {
    Turbine {
        swallowing: Swallowing::Area {
            effective_area: 8e-4,
            law: FlowLaw::Nozzle,
        },
        efficiency: TurbineEfficiency::Figure(efficiency),
        mechanical_efficiency: 1.0,
        drives: 0,
        wastegate: None,
    }
}

/// Work of a wheel of the given efficiency, J/kg.
fn work(gas: &Gas, temperature: f64, ratio: f64, efficiency: f64) -> Result<f64, GasError> {
    let expansion = wheel(efficiency).expand(gas, temperature, ratio, None, None)?;
    Ok(expansion.work)
}

fn dry_air() -> Gas {
    HumidAir::dry().gas()
}

/// Gupta, Fundamentals of Internal Combustion Engines, ex. 15.6 (companion): the compressor takes
/// 76.6 % of the turbine's power and ends at 86 °C (printed 85.85 as 86.0), the turbine at 502 °C.
/// The book's gas has cp 1.15; what 20 parts of air and one of diesel leave has 1.18, and the
/// greater heat capacity cools less.
#[test]
fn the_share_of_a_turbines_power_that_its_compressor_takes_is_the_textbooks() {
    let fuel = FuelFormula {
        hydrogen_carbon_ratio: 1.80,
        oxygen_carbon_ratio: 0.0,
    };
    let exhaust = fuel.burn(&HumidAir::dry(), 20.0).unwrap().gas;
    let inlet = AirState::new(&dry_air(), 0.98e5, 290.0).unwrap();
    let outlet = compress(&dry_air(), &inlet, 1.8 / 0.98, 0.80).unwrap();
    answers("turbo-01", "compressor_outlet_k", outlet.temperature, -0.10);
    let given = work(&exhaust, 850.0, 1.6 / 1.03, 0.85).unwrap();
    let left = exhaust.enthalpy(850.0).unwrap() - given;
    let behind = exhaust.temperature_at_enthalpy(left, 800.0).unwrap();
    answers("turbo-01", "turbine_outlet_k", behind, 0.22);
    let share = (outlet.enthalpy - inlet.enthalpy) / (1.05 * given);
    answers("turbo-01", "power_fraction", share, -0.58);
}

/// Cengel and Boles, Thermodynamics, review problem on a turbocharger with aftercooler (answers
/// from memory: 108.6 °C, 44.9 L/s): exhaust taken as air, 0.02 kg/s from 400 to 350 °C.
#[test]
fn the_air_behind_a_turbocharger_and_its_cooling_air_are_the_textbooks() {
    let air = dry_air();
    let h = |celsius: f64| air.enthalpy(celsius + 273.15).unwrap();
    let given = 0.02 * (h(400.0) - h(350.0));
    let hot = h(50.0) + given / 0.018;
    let temperature = air.temperature_at_enthalpy(hot, 400.0).unwrap();
    answers("turbo-02", "compressor_outlet_k", temperature, -0.02);
    let cooling = 0.018 * (hot - h(80.0)) / (h(40.0) - h(30.0));
    let volume = cooling / air.density(100e3, 303.15);
    answers("turbo-02", "cooling_air_m3_s", volume, -0.04);
}

/// Dixon, Fluid Mechanics, Thermodynamics of Turbomachinery, ex. 8.3 (companion): a power ratio of
/// 0.2 at 0.81 total to static from 1050 K takes an expansion ratio of 3.1117; its gas of γ 1.333
/// and R 287 is hot air.
#[test]
fn the_work_of_a_radial_turbine_on_hot_air_is_the_textbooks() {
    let found = work(&dry_air(), 1050.0, 3.111_65, 0.81).unwrap();
    answers("turb-01", "work_j_kg", found, -0.18);
}

/// Dixon, ex. 8.2 (companion): a wheel of 72.5 mm on air of 400 K at 1.5; flow, speed and torque
/// measured as coefficients of p01 and T01. Its work by its tip speed over the isentropic drop is
/// 76.13 %, that of the shaft 73.17 %.
#[test]
fn the_efficiencies_of_a_small_radial_turbine_are_the_textbooks() {
    let drop = work(&dry_air(), 400.0, 1.5, 1.0).unwrap();
    let speed = 2410.0 * 400.0_f64.sqrt();
    let tip_speed = std::f64::consts::PI * 0.0725 * speed / 60.0;
    answers(
        "turb-02",
        "wheel_efficiency",
        tip_speed * tip_speed / drop,
        0.0,
    );
    // torque × ω over flow: both pressures cancel.
    let shaft = 4.59e-6 * speed * std::f64::consts::PI / 30.0 / (1.44e-5 / 400.0_f64.sqrt());
    answers("turb-02", "overall_efficiency", shaft / drop, 0.0);
}

/// Arasu, Turbomachines, ex. 6.2 (companion): 6.5 kg/s of air of 557 K by 4 with a tip speed of
/// 395.84 m/s give 85.58 %. Air of 557 K has more heat to give than cp 1.005 says.
#[test]
fn the_stage_efficiency_of_a_large_radial_turbine_is_the_textbooks() {
    let drop = work(&dry_air(), 557.0, 4.0, 1.0).unwrap();
    let tip_speed = std::f64::consts::PI * 0.42 * 18_000.0 / 60.0;
    answers(
        "turb-03",
        "stage_efficiency",
        tip_speed * tip_speed / drop,
        -0.39,
    );
}

/// Arasu, ex. 6.6 (companion): a heavy inert gas of γ 1.67 and 39.94 g/mol, argon (5/3, 39.948),
/// from 1145 to 925 K by 700/385: 90.1 % and a wheel of 0.269 m. Nothing of air is wired in.
#[test]
fn a_radial_turbine_on_argon_is_the_textbooks() {
    let argon = Gas::mix(&[0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0]);
    let drop = work(&argon, 1145.0, 700.0 / 385.0, 1.0).unwrap();
    let given = argon.enthalpy(1145.0).unwrap() - argon.enthalpy(925.0).unwrap();
    answers("turb-04", "wheel_efficiency", given / drop, 0.26);
    let diameter = given.sqrt() / (std::f64::consts::PI * 24_000.0 / 60.0);
    answers("turb-04", "rotor_diameter_m", diameter, 0.09);
}

/// NASA TN D-7625 (1974), table I: 3.28 kg/s at 34,700 rpm from 1089 K and 26.34 N/cm² are 2.507 kg/s
/// and 18,075 rpm of standard air (288.15 K, 101.325 kPa), with γ taken out. The trade's plain
/// correction, which maps use, leaves γ in: 2.453 kg/s and 17,849 rpm by hand, 2.2 % and 1.3 % less.
/// NASA TN D-6967 (1972), first stage: 2.994 kg/s at 28,000 rpm from 977.78 K and 28.544 N/cm², plainly
/// 1.958 kg/s and 15,200 rpm against 1.989 and 15,336. Half of each last digit.
#[test]
fn plain_corrected_values_are_below_those_with_gamma_taken_out() {
    let standard = Reference {
        temperature: 288.15,
        pressure: 101_325.0,
    };
    for (flow, speed, t, p, plain, with_gamma) in [
        (
            3.28,
            34_700.0,
            1089.0,
            263.4e3,
            (2.453, 17_849.0),
            (2.507, 18_075.0),
        ),
        (
            2.994,
            28_000.0,
            977.78,
            285.44e3,
            (1.958, 15_200.0),
            (1.989, 15_336.0),
        ),
    ] {
        let corrected = CorrectedFlow::from_actual(flow, p, t, standard);
        assert_relative_eq!(corrected.0, plain.0, epsilon = 5e-4);
        assert!(corrected.0 < with_gamma.0);
        let turning = CorrectedSpeed::from_actual(speed, t, standard);
        assert_relative_eq!(turning.0, plain.1, epsilon = 0.5);
        assert!(turning.0 < with_gamma.1);
    }
}
