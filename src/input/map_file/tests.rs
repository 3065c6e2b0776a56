//! Map files as people have them.

use super::*;
use crate::map::{CorrectedFlow, CorrectedSpeed};
use approx::assert_relative_eq;
use proptest::prelude::*;

const BASE: &str = include_str!("../../../tests/cases/map_base.csv");

fn compressor(text: &str) -> (Arc<CompressorMap>, Vec<String>) {
    let file = read("m.csv", text.as_bytes()).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let remarks = file.remarks.iter().map(Note::to_string).collect();
    match file.content {
        MapContent::Compressor(map) => (map, remarks),
        other => panic!("{other:?}"),
    }
}

fn faults(text: &str) -> Vec<String> {
    let faults = read("m.csv", text.as_bytes()).unwrap_err();
    faults.iter().map(Note::to_string).collect()
}

fn assert_equals_base(map: &CompressorMap, max_relative: f64) {
    let (base, _) = compressor(BASE);
    assert_eq!(map.lines().len(), base.lines().len());
    for (line, right) in map.lines().iter().zip(base.lines()) {
        assert_relative_eq!(line.speed(), right.speed(), max_relative = max_relative);
        assert_eq!(line.points().len(), right.points().len());
        for (point, right) in line.points().iter().zip(right.points()) {
            assert_relative_eq!(point.flow, right.flow, max_relative = max_relative);
            assert_relative_eq!(
                point.pressure_ratio,
                right.pressure_ratio,
                max_relative = max_relative
            );
            assert_relative_eq!(
                point.efficiency,
                right.efficiency,
                max_relative = max_relative
            );
        }
    }
    assert_relative_eq!(map.reference().temperature, 298.15, max_relative = 1e-12);
    assert_relative_eq!(
        map.reference().pressure,
        100e3,
        max_relative = max_relative.max(1e-4)
    );
}

#[test]
fn the_plain_form_is_read() {
    let (map, _) = compressor(BASE);
    assert_eq!(map.lines().len(), 3);
    let point = map.at_speed_and_flow(CorrectedSpeed(100_000.0), CorrectedFlow(0.145));
    assert_relative_eq!(point.pressure_ratio, 1.80, max_relative = 1e-9);
    assert_relative_eq!(point.efficiency, 0.76, max_relative = 1e-9);
}

#[test]
fn semicolons_with_decimal_commas_are_the_same_map() {
    let (map, _) = compressor(include_str!("../../../tests/cases/map_semicolon.csv"));
    assert_equals_base(&map, 1e-12);
}

#[test]
fn a_comma_for_both_jobs_is_refused_at_its_line() {
    let said = faults(include_str!("../../../tests/cases/map_comma_both.csv"));
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].starts_with("m.csv:5: line: the comma is both decimal and separator"),
        "{said:?}"
    );
    assert!(
        said[0].contains("save the file with semicolons"),
        "{said:?}"
    );
}

/// Rows carry four decimals, 29.53 inHg is 100.000 kPa to 3e-5.
#[test]
fn us_units_and_per_cent_are_the_same_map() {
    let (map, _) = compressor(include_str!("../../../tests/cases/map_us.csv"));
    assert_equals_base(&map, 1e-5);
}

#[test]
fn a_flow_without_unit_and_one_in_an_unknown_unit_are_refused_by_column() {
    let said = faults(include_str!("../../../tests/cases/map_no_unit.csv"));
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(said[0].starts_with(
        "m.csv:4: line: column \"corrected_flow\" has no unit: write for example corrected_flow [kg/s]"
    ));
    let said = faults(include_str!("../../../tests/cases/map_odd_unit.csv"));
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].contains("column \"corrected_flow\": unit [m3h] is not known (did you mean m3/h?)"),
        "{said:?}"
    );
}

#[test]
fn shuffled_rows_are_the_same_map_and_a_repeat_is_said() {
    let (map, remarks) = compressor(include_str!("../../../tests/cases/map_shuffled.csv"));
    assert_equals_base(&map, 1e-12);
    let repeat: Vec<_> = remarks
        .iter()
        .filter(|text| text.contains("repeats line"))
        .collect();
    assert_eq!(repeat, ["m.csv:14: line: repeats line 7 and is dropped"]);
}

#[test]
fn rows_that_contradict_are_named_together() {
    let said = faults(include_str!("../../../tests/cases/map_conflict.csv"));
    assert_eq!(
        said,
        [
            "m.csv:13: line: lines 12 and 13 give the same point with different values: remove the wrong one"
        ]
    );
}

#[test]
fn lines_of_unequal_length_and_upright_ends_are_read() {
    let (map, _) = compressor(include_str!("../../../tests/cases/map_unequal.csv"));
    let counts: Vec<usize> = map.lines().iter().map(|line| line.points().len()).collect();
    assert_eq!(counts, [3, 6, 4]);
    let (map, _) = compressor(include_str!("../../../tests/cases/map_choke.csv"));
    assert_eq!(map.lines()[1].points().len(), 6);
}

#[test]
fn a_map_without_reference_state_says_how_to_write_it() {
    let text: String = BASE
        .lines()
        .filter(|line| !line.contains("reference"))
        .flat_map(|line| [line, "\n"])
        .collect();
    let said = faults(&text);
    assert_eq!(said.len(), 2, "{said:#?}");
    assert!(said[0].starts_with("m.csv:2: reference_temperature: is missing"));
    assert!(
        said[0].contains("# reference_temperature = 298.15 K")
            && said[1].contains("# reference_pressure = 100 kPa")
    );
}

#[test]
fn line_endings_tabs_marks_order_and_case_make_no_difference() {
    let crlf = format!("\u{feff}{}", BASE.replace('\n', "\r\n"));
    assert_equals_base(&compressor(&crlf).0, 1e-12);
    assert_equals_base(&compressor(&BASE.replace('\n', "\r")).0, 1e-12);
    assert_equals_base(&compressor(&BASE.replace(',', "\t")).0, 1e-12);
    assert_equals_base(&compressor(&BASE.replace(',', " ,  ")).0, 1e-12);
    assert_equals_base(&compressor(&BASE.replace('\n', ",,\n\n")).0, 1e-12);
    let named = BASE
        .replace("corrected_speed", "Corrected Speed")
        .replace("efficiency [-]", "Efficiency");
    assert_equals_base(&compressor(&named).0, 1e-12);
    let reordered: String = BASE
        .lines()
        .map(|line| {
            let mut cells: Vec<&str> = line.split(',').collect();
            if !line.starts_with('#') {
                cells.reverse();
            }
            cells.join(",") + "\n"
        })
        .collect();
    assert_equals_base(&compressor(&reordered).0, 1e-12);
}

#[test]
fn per_cent_without_unit_is_read_and_said() {
    let text: String = BASE
        .replace(" [-]", "")
        .lines()
        .map(|line| {
            let (rest, last) = line.rsplit_once(',').unwrap_or((line, ""));
            match last.parse::<f64>() {
                Ok(value) => format!("{rest},{}\n", (value * 100.0).round()),
                Err(_) => format!("{line}\n"),
            }
        })
        .collect();
    let (map, remarks) = compressor(&text);
    assert_equals_base(&map, 1e-12);
    assert!(
        remarks.iter().any(|text| text.contains("read as per cent")),
        "{remarks:?}"
    );
}

/// 0.145 kg/s over the density of dry air at 298.15 K and 100 kPa, 100000/(287.05 × 298.15) =
/// 1.16844 kg/m³, is 0.12410 m³/s.
#[test]
fn a_corrected_volume_flow_is_taken_with_the_density_of_the_reference_state() {
    let text = BASE
        .replace("[kg/s]", "[m3/s]")
        .replace(",0.145,", ",0.12410,");
    let (map, _) = compressor(&text);
    let flows: Vec<f64> = map.lines()[1]
        .points()
        .iter()
        .map(|point| point.flow)
        .collect();
    assert!(
        flows.iter().any(|flow| (flow - 0.145).abs() < 1e-5),
        "{flows:?}"
    );
}

#[test]
fn an_uncorrected_volume_flow_is_refused_with_both_readings() {
    let said = faults(&BASE.replace("corrected_flow [kg/s]", "flow [ft3/min]"));
    assert_eq!(said.len(), 1, "{said:#?}");
    assert!(
        said[0].contains("corrected to the reference state")
            && said[0].contains("measured at the inlet")
    );
}

#[test]
fn measured_values_need_the_inlet_state_and_are_corrected_with_it() {
    let measured = BASE
        .replace("corrected_flow", "flow")
        .replace("corrected_speed", "speed");
    assert!(faults(&measured)[0].contains("# inlet_temperature = 300 K"));
    let with = format!("# inlet_temperature = 358 K\n# inlet_pressure = 153.5 kPa\n{measured}");
    let (map, _) = compressor(&with);
    // 0.145 √(358/298.15)/1.535 and 100000/√(358/298.15).
    assert_relative_eq!(map.lines()[1].speed(), 91_259.1, max_relative = 1e-5);
    let flow = 0.145 * f64::sqrt(358.0 / 298.15) / 1.535;
    assert!(
        map.lines()[1]
            .points()
            .iter()
            .any(|point| (point.flow - flow).abs() < 1e-9)
    );
}

#[test]
fn every_bad_value_is_named_with_its_line_in_one_run() {
    let text = BASE
        .replace("80000,0.085,1.50,0.71", "80000,nan,1.50,0.71")
        .replace("100000,0.115,1.90,0.73", "100000,-0.115,1.90,0.73")
        .replace("120000,0.190,2.33,0.76", "120000,0.190,2.33,1.76")
        .replace("120000,0.240,1.70,0.60", "120000,,1.70,0.60")
        .replace("120000,0.155,2.47,0.73", "120000,0.155,2.47");
    let said = faults(&text);
    assert_eq!(said.len(), 5, "{said:#?}");
    assert!(said[0].starts_with("m.csv:6: corrected_flow [kg/s]: \"nan\" is not a finite number"));
    assert!(said[1].starts_with(
        "m.csv:11: corrected_flow [kg/s]: -0.115 is out of range: it must be above 0"
    ));
    assert!(
        said[2].starts_with("m.csv:17: line: 3 values under 4 headings"),
        "{said:#?}"
    );
    assert!(
        said[3].starts_with("m.csv:18: efficiency [-]: 1.76 cannot be a fraction"),
        "{said:#?}"
    );
    assert!(said[4].starts_with("m.csv:20: corrected_flow [kg/s]: has no value"));
}

#[test]
fn a_line_of_one_or_two_points_is_refused() {
    let text = format!("{BASE}130000,0.15,2.8,0.7\n130000,0.20,2.7,0.7\n");
    let said = faults(&text);
    assert!(
        said[0].contains(
            "the line at 130000 rpm has 2 points (lines 21, 22); a line needs at least 3 points"
        ),
        "{said:?}"
    );
    let one: String = BASE.lines().take(5).flat_map(|line| [line, "\n"]).collect();
    assert!(faults(&one)[0].contains("has one point (line 5)"));
}

#[test]
fn a_file_that_is_no_map_says_so() {
    assert!(faults("")[0].contains("holds no map"));
    assert!(faults("# origin = invented\n")[0].contains("holds no map"));
    assert!(faults("80000,0.06,1.5,0.6\n")[0].contains("there is no heading"));
    let said = faults("a,b,c\n1,2,3\n");
    assert!(
        said.iter()
            .any(|text| text.contains("column corrected_speed [rpm] is missing")),
        "{said:?}"
    );
}

#[test]
fn misspelt_columns_and_settings_get_the_nearest() {
    let text = BASE
        .replace("efficiency [-]", "eficiency [-]")
        .replace("reference_pressure", "refrence_pressure");
    let said = faults(&text);
    assert_eq!(said.len(), 2, "{said:#?}");
    assert!(said[0].contains("did you mean reference_pressure?"));
    assert!(said[1].contains("column \"eficiency\" is unknown, did you mean efficiency?"));
}

#[test]
fn a_gauge_reference_pressure_is_refused() {
    let said = faults(&BASE.replace("100 kPa", "0 kPag"));
    assert!(said[0].contains("must be an absolute pressure"), "{said:?}");
}

#[test]
fn an_explicit_surge_line_is_taken() {
    let text = format!("# surge = 0.070 kg/s, 1.5\n# surge = 0.14 kg/s, 2.5\n{BASE}");
    let (map, _) = compressor(&text);
    let point = map.at_flow_and_ratio(CorrectedFlow(0.14), 1.5);
    assert_relative_eq!(
        map.margins(&point).surge_at_same_ratio.unwrap(),
        0.5,
        max_relative = 1e-9
    );
    assert!(
        faults(&format!("# surge = 0.07, 1.5\n{BASE}"))[0]
            .contains("is written FLOW unit, PRESSURE RATIO")
    );
}

fn supercharger(text: &str) -> Arc<SuperchargerMap> {
    match read("s.csv", text.as_bytes()).unwrap().content {
        MapContent::Supercharger(map) => map,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_supercharger_map_is_known_by_its_columns() {
    let map = supercharger(
        "speed [rpm], pressure_ratio, volumetric_efficiency [%], efficiency [%]\n\
         8000, 1.2, 92, 62\n8000, 1.5, 88, 60\n8000, 1.8, 83, 56\n",
    );
    let point = map.at_speed_and_ratio(8000.0, 1.5);
    assert_relative_eq!(point.volumetric_efficiency, 0.88, max_relative = 1e-9);
    assert_relative_eq!(point.efficiency, 0.60, max_relative = 1e-9);
}

/// 2 L at 6000 rpm sweep 0.2 m³/s; 0.17 m³/s of it is 85 %. At 20 °C and 101.325 kPa that is
/// 1.2041 kg/m³ × 0.17 = 0.20470 kg/s; a ratio of 1.5 takes 36.14 kJ/kg with γ 1.4, so 7.399 kW of
/// 12 kW, 61.7 %. By hand.
#[test]
fn a_delivered_flow_and_a_power_become_efficiencies() {
    let rows = "speed [rpm], pressure_ratio, delivered_flow [L/s], power [kW]\n\
                6000, 1.2, 180, 6\n6000, 1.5, 170, 12\n6000, 1.8, 160, 20\n";
    let inlet =
        "# displacement = 2 L\n# inlet_temperature = 20 degC\n# inlet_pressure = 101.325 kPa\n";
    let point = supercharger(&format!("{inlet}{rows}")).at_speed_and_ratio(6000.0, 1.5);
    assert_relative_eq!(point.volumetric_efficiency, 0.85, max_relative = 1e-9);
    assert_relative_eq!(point.efficiency, 0.617, epsilon = 0.0005);
    let said = faults(&format!("# displacement = 2 L\n{rows}"));
    assert!(
        said[0].contains("power: needs the swept volume"),
        "{said:?}"
    );
}

#[test]
fn a_turbine_map_is_known_by_its_columns() {
    let text = "# reference_temperature = 288.15 K\n# reference_pressure = 101.325 kPa\n\
                corrected_speed [rpm];expansion_ratio;corrected_flow [lb/min];efficiency\n\
                60000;1,5;12;0,7\n60000;2,0;13;0,69\n60000;2,5;13,2;0,66\n";
    match read("t.csv", text.as_bytes()).unwrap().content {
        MapContent::Turbine(map) => {
            let point = map.at_speed_and_ratio(CorrectedSpeed(60e3), 1.5);
            assert_relative_eq!(point.flow.0, 12.0 * 0.45359237 / 60.0, max_relative = 1e-9);
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_million_rows_are_refused_quickly() {
    let mut text = BASE.to_owned();
    for row in 0..1_000_000 {
        use std::fmt::Write;
        writeln!(text, "{row},0.1,1.5,0.7").unwrap();
    }
    let began = std::time::Instant::now();
    assert!(faults(&text)[0].contains("1000016 rows; the limit is 20000"));
    assert!(began.elapsed().as_secs() < 5);
}

#[test]
fn many_faults_are_cut_short() {
    let text = BASE.replace(",0.", ",x0.");
    let said = faults(&text);
    assert_eq!(said.len(), 26);
    assert!(said[25].contains("more faults after these"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]
    #[test]
    fn mutilation_never_panics(
        cuts in prop::collection::vec((0_usize..560, prop::sample::select(vec!["", ",", ";", "\n", "nan", "-", "1e999", "\"", "#", "0", "%", "[", "é", "\t"])), 1..8),
    ) {
        let mut bytes = BASE.as_bytes().to_vec();
        for (at, with) in cuts {
            let at = at.min(bytes.len().saturating_sub(1));
            bytes.splice(at..=at, with.bytes());
        }
        if let Err(faults) = read("m.csv", &bytes) {
            prop_assert!(!faults.is_empty());
        }
    }
}
