//! An invented compressor map, exact under similarity, and an operating line that belongs to it.
//! No machine was measured: the formulas only give a sensible shape.

use std::f64::consts::PI;

/// Outlet diameter of the wheel, m.
const DIAMETER: f64 = 0.078;
/// Speed of sound (m/s) and density (kg/m³) of dry air at 298.15 K and 100 kPa, gamma 1.4.
const SOUND: f64 = 346.1;
const DENSITY: f64 = 1.1684;
/// Corrected speeds, rpm.
pub const SPEEDS: [f64; 8] = [40e3, 55e3, 70e3, 85e3, 100e3, 112e3, 122e3, 130e3];
/// Place of best efficiency between surge (0) and choke (1).
const BEST: f64 = 0.52;

/// Corrected flow (kg/s), pressure ratio and efficiency at a corrected speed (rpm) and a place
/// between surge (0) and choke (1).
pub fn state(speed: f64, place: f64) -> (f64, f64, f64) {
    let tip = PI * DIAMETER * speed / 60.0;
    let mach = tip / SOUND;
    let area_flow = DENSITY * DIAMETER * DIAMETER;
    let surge = (0.030 + 0.0155 * mach * mach) * area_flow * tip;
    let throat = 0.1977 * area_flow * SOUND * ((2.0 + 0.4 * (0.53 * mach).powi(2)) / 2.4).powi(3);
    let incidence = 0.130 * area_flow * tip;
    let choke = (throat.powi(-8) + incidence.powi(-8)).powf(-1.0 / 8.0);
    let flow = surge + place * (choke - surge);

    let slope = if mach < 1.05 { 0.25 } else { 0.30 };
    let best = 0.775 - slope * (mach - 1.05).powi(2);
    let fall = if place < BEST {
        1.0 - 0.05 * ((BEST - place) / BEST).powi(2)
    } else {
        let t = (place - BEST) / (1.0 - BEST);
        1.0 - 0.42 * (1.0 - (1.0 - t.powf(2.2)).max(0.0).powf(0.6))
    };
    let efficiency = best * fall;
    let work = 0.74 - 0.90 * flow / (area_flow * tip);
    (
        flow,
        (1.0 + 0.4 * mach * mach * work * efficiency).powf(3.5),
        efficiency,
    )
}

/// One speed line, finely.
pub fn line(speed: f64) -> Vec<[f64; 2]> {
    (0..=60_u32)
        .map(|i| edge_point(speed, f64::from(i) / 60.0))
        .collect()
}

/// The places at one share between surge and choke over all speeds.
pub fn edge(place: f64) -> Vec<[f64; 2]> {
    fine_speeds()
        .into_iter()
        .map(|speed| edge_point(speed, place))
        .collect()
}

/// Outline of the region that the map covers.
pub fn hull() -> Vec<[f64; 2]> {
    let mut outline = edge(0.0);
    outline.extend(line(SPEEDS[7]));
    outline.extend(edge(1.0).into_iter().rev());
    outline.extend(line(SPEEDS[0]).into_iter().rev());
    outline
}

/// Outline of the region above an efficiency: for every speed the two places where it is reached,
/// closed along the highest speed line.
pub fn island(level: f64) -> Vec<[f64; 2]> {
    let (mut low, mut high, mut top) = (Vec::new(), Vec::new(), Vec::new());
    for speed in fine_speeds()
        .into_iter()
        .filter(|&speed| state(speed, BEST).2 > level)
    {
        let first = reached(speed, level, 0.0);
        let last = reached(speed, level, 1.0);
        low.push(edge_point(speed, first));
        high.push(edge_point(speed, last));
        top = (1..40_u32)
            .map(|i| edge_point(speed, first + (last - first) * f64::from(i) / 40.0))
            .collect();
    }
    low.extend(top);
    low.extend(high.into_iter().rev());
    low
}

/// The place between the best and one end where the efficiency falls through the level.
fn reached(speed: f64, level: f64, end: f64) -> f64 {
    let (mut above, mut below) = (BEST, end);
    if state(speed, end).2 >= level {
        return end;
    }
    for _ in 0..50 {
        let middle = f64::midpoint(above, below);
        if state(speed, middle).2 >= level {
            above = middle;
        } else {
            below = middle;
        }
    }
    above
}

fn edge_point(speed: f64, place: f64) -> [f64; 2] {
    let (flow, ratio, _) = state(speed, place);
    [flow, ratio]
}

fn fine_speeds() -> Vec<f64> {
    (0..=180_u32).map(|i| 40e3 + 500.0 * f64::from(i)).collect()
}

/// One row of the invented operating line; pressures kPa gauge, temperatures °C, flows kg/s.
pub struct Row {
    pub rpm: f64,
    pub supercharger_ratio: f64,
    pub turbo_ratio: f64,
    pub boost: f64,
    pub air: [f64; 3],
    pub drive: f64,
    pub exhaust: f64,
    pub flow: f64,
}

/// The operating line, from a solution with a constant compressor efficiency.
pub const ROWS: [Row; 12] = [
    row(
        1200.0,
        (1.687, 1.199),
        85.0,
        [108.0, 135.0, 52.0],
        (99.0, 629.0),
        0.057,
    ),
    row(
        1400.0,
        (1.601, 1.319),
        91.0,
        [93.0, 134.0, 52.0],
        (107.0, 640.0),
        0.072,
    ),
    row(
        1600.0,
        (1.468, 1.491),
        97.0,
        [76.0, 133.0, 51.0],
        (118.0, 653.0),
        0.092,
    ),
    row(
        1800.0,
        (1.304, 1.738),
        103.0,
        [56.0, 133.0, 51.0],
        (132.0, 667.0),
        0.118,
    ),
    row(
        2000.0,
        (1.135, 2.088),
        111.0,
        [38.0, 137.0, 52.0],
        (150.0, 683.0),
        0.153,
    ),
    row(
        2200.0,
        (1.024, 2.418),
        119.0,
        [26.0, 143.0, 54.0],
        (170.0, 676.0),
        0.189,
    ),
    row(
        2300.0,
        (1.0, 2.799),
        144.0,
        [24.0, 162.0, 58.0],
        (197.0, 675.0),
        0.225,
    ),
    row(
        2400.0,
        (1.0, 3.180),
        174.0,
        [24.0, 182.0, 63.0],
        (229.0, 673.0),
        0.263,
    ),
    row(
        2600.0,
        (1.0, 3.337),
        185.0,
        [24.0, 189.0, 65.0],
        (250.0, 664.0),
        0.293,
    ),
    row(
        2800.0,
        (1.0, 3.354),
        185.0,
        [24.0, 190.0, 66.0],
        (260.0, 661.0),
        0.313,
    ),
    row(
        3000.0,
        (1.0, 3.372),
        185.0,
        [24.0, 191.0, 66.0],
        (270.0, 664.0),
        0.333,
    ),
    row(
        3200.0,
        (1.0, 3.390),
        185.0,
        [24.0, 192.0, 66.0],
        (279.0, 667.0),
        0.352,
    ),
];

const fn row(
    rpm: f64,
    (supercharger_ratio, turbo_ratio): (f64, f64),
    boost: f64,
    air: [f64; 3],
    (drive, exhaust): (f64, f64),
    flow: f64,
) -> Row {
    Row {
        rpm,
        supercharger_ratio,
        turbo_ratio,
        boost,
        air,
        drive,
        exhaust,
        flow,
    }
}
