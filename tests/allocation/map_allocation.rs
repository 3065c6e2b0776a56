//! Lookups in a map must not allocate: the solver makes thousands of them for one point.

use crate::counting;
use crate::recipe;
use airpath::map::{
    CompressorMap, CorrectedFlow, CorrectedSpeed, SuperchargerMap, SuperchargerRow, TurbineMap,
    TurbineRow,
};
use counting::asked_so_far;

#[test]
fn no_lookup_allocates_inside_or_outside_the_data() {
    let map = CompressorMap::new(recipe::REFERENCE, &recipe::demo()).unwrap();
    let before = asked_so_far();
    // That the counter counts at all.
    drop(std::hint::black_box(vec![0_u8; 16]));
    assert_eq!(asked_so_far(), before + 1);
    let mut sum = 0.0;
    for speed in [0.0, 20e3, 40e3, 77e3, 130e3, 150e3].map(CorrectedSpeed) {
        for flow in [0.01, 0.1, 0.2, 0.3, 0.5].map(CorrectedFlow) {
            for ratio in [0.8, 1.0, 1.4, 2.2, 6.0] {
                let points = [
                    map.at_speed_and_flow(speed, flow),
                    map.at_speed_and_ratio(speed, ratio),
                    map.at_flow_and_ratio(flow, ratio),
                    map.at_speed_and_place(speed, ratio - 1.0),
                ];
                sum += points
                    .map(|point| map.margins(&point).choke)
                    .iter()
                    .sum::<f64>();
            }
        }
    }
    assert_eq!(asked_so_far(), before + 1);
    assert!(sum.is_finite());
}

/// Invented maps of the other two machines, as plain as they can be.
fn rotors_and_wheel() -> (SuperchargerMap, TurbineMap) {
    let (mut rotors, mut wheel) = (Vec::new(), Vec::new());
    for step in 1..=5 {
        let step = f64::from(step);
        for ratio in [1.2, 1.5, 1.9, 2.4] {
            rotors.push(SuperchargerRow {
                speed: 2000.0 * step,
                pressure_ratio: ratio,
                volumetric_efficiency: 1.0 - 900.0 * f64::sqrt(ratio - 1.0) / (2000.0 * step),
                efficiency: 0.62 - 0.05 * (ratio - 1.5).powi(2),
            });
            wheel.push(TurbineRow {
                speed: 20e3 * step,
                expansion_ratio: ratio,
                flow: 0.14 * (1.0 - 1.0 / ratio).sqrt() - 1e-3 * step,
                efficiency: 0.70 - 0.02 * (step - 3.0).powi(2),
            });
        }
    }
    (
        SuperchargerMap::new(&rotors).unwrap(),
        TurbineMap::new(recipe::REFERENCE, &wheel).unwrap(),
    )
}

#[test]
fn no_lookup_in_a_supercharger_or_turbine_map_allocates() {
    let (rotors, wheel) = rotors_and_wheel();
    let before = asked_so_far();
    let mut sum = 0.0;
    for speed in [0.0, 0.5, 1.0, 2.3, 4.9, 8.0] {
        for ratio in [0.8, 1.0, 1.3, 2.2, 6.0] {
            let point = rotors.at_speed_and_ratio(2000.0 * speed, ratio);
            sum += point.volumetric_efficiency + point.efficiency;
            let point = wheel.at_speed_and_ratio(CorrectedSpeed(20e3 * speed), ratio);
            sum += point.flow.0 + point.efficiency;
        }
    }
    assert_eq!(asked_so_far(), before);
    assert!(sum.is_finite() && sum > 0.0);
}
