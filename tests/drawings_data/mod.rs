//! The drawings of one invented build, filled in.

use airpath::plot::{
    Axis, Band, CompressorMap, Curves, Event, Island, Journey, Layer, LayoutBoost, Limit,
    OperatingLine, OperatingPoint, Run, Series, SpeedLine, Split, Stack, StageShare, StationLimit,
};

use crate::demo_map::{self, ROWS};

/// Site pressure of the invented build, Pa (1600 m).
const SITE: f64 = 83_500.0;

const SPEED: Axis = Axis {
    words: "engine speed, rpm",
    shown: &|v| v,
};
const BOOST: Axis = Axis {
    words: "boost at the manifold, kPa gauge",
    shown: &|v| (v - SITE) / 1000.0,
};

/// The map with the invented build's line.
pub fn map() -> CompressorMap<'static> {
    CompressorMap {
        title: "The compressor stays right of surge and left of choke up to 3,200 rpm",
        subtitle: "smallest surge margin 16.5 % at 2,200 rpm, choke margin 12 % at 3,200 rpm",
        note: "Invented map: no machine was measured.",
        flow: Axis {
            words: "corrected flow, kg/s at 298.15 K, 100 kPa",
            shown: &|v| v,
        },
        ratio: Axis {
            words: "pressure ratio, total to total",
            shown: &|v| v,
        },
        speed_words: "corrected speed, rpm",
        speed_lines: demo_map::SPEEDS
            .iter()
            .map(|&speed| SpeedLine {
                label: format!("{}k", speed / 1000.0),
                points: demo_map::line(speed),
            })
            .collect(),
        surge: demo_map::edge(0.0),
        choke: demo_map::edge(1.0),
        islands: [0.55, 0.60, 0.65, 0.70, 0.74, 0.76]
            .iter()
            .map(|&level| Island {
                level,
                label: format!("{:.0} %", level * 100.0),
                rings: vec![demo_map::island(level)],
            })
            .collect(),
        hull: demo_map::hull(),
        operating_lines: vec![OperatingLine {
            name: "engine at full load, rpm".to_owned(),
            points: ROWS
                .iter()
                .map(|row| OperatingPoint {
                    rpm: row.rpm,
                    flow: row.flow,
                    ratio: row.turbo_ratio,
                    inside: true,
                })
                .collect(),
            ..OperatingLine::default()
        }],
    }
}

/// A second line that leaves the map over its highest speed.
pub fn high_line() -> OperatingLine {
    OperatingLine {
        name: "at 2,900 m".to_owned(),
        points: ROWS
            .iter()
            .map(|row| {
                let ratio = 1.0 + (row.turbo_ratio - 1.0) * 1.18;
                OperatingPoint {
                    rpm: row.rpm,
                    flow: row.flow * 1.04,
                    ratio,
                    inside: ratio < 3.55,
                }
            })
            .collect(),
        ..OperatingLine::default()
    }
}

/// Pressure and temperature along the stations at three speeds.
pub fn journey() -> Journey<'static> {
    let names = [
        "ambient",
        "supercharger inlet",
        "supercharger outlet",
        "compressor inlet",
        "compressor outlet",
        "cooler outlet",
        "manifold",
        "turbine inlet",
        "turbine outlet",
    ];
    let runs = [0, 5, 11].map(|place| {
        let row = &ROWS[place];
        let inlet = 0.98 * SITE;
        let between = inlet * row.supercharger_ratio;
        let manifold = SITE + row.boost * 1000.0;
        let pressures = [
            SITE,
            inlet,
            between,
            between,
            between * row.turbo_ratio,
            manifold + 500.0,
            manifold,
            SITE + row.drive * 1000.0,
            SITE + 5000.0 * (row.flow / 0.352).powi(2),
        ];
        let [supercharger, turbo, cooled] = row.air;
        let out = row.exhaust - 0.35 * row.drive;
        let temperatures = [
            24.0,
            24.0,
            supercharger,
            supercharger,
            turbo,
            cooled,
            cooled,
            row.exhaust,
            out,
        ];
        Run {
            name: format!(
                "{:.0},{:03.0} rpm",
                (row.rpm / 1000.0).floor(),
                row.rpm % 1000.0
            ),
            pressures: pressures.map(Some).into(),
            temperatures: temperatures.map(|celsius| Some(celsius + 273.15)).into(),
        }
    });
    Journey {
        title: "The cooler takes 126 K out of the charge at 3,200 rpm",
        subtitle: "from the air outside to the tailpipe",
        note: "",
        pressure: Axis {
            words: "pressure, kPa absolute",
            shown: &|v| v / 1000.0,
        },
        temperature: Axis {
            words: "temperature, °C",
            shown: &|v| v - 273.15,
        },
        stations: names.map(str::to_owned).into(),
        exhaust_from: Some(7),
        runs: runs.into(),
        pressure_limits: vec![StationLimit {
            station: 6,
            at: 275e3,
            words: "limit 275.0".to_owned(),
        }],
        temperature_limits: vec![
            StationLimit {
                station: 4,
                at: 473.15,
                words: "limit 200.0".to_owned(),
            },
            StationLimit {
                station: 6,
                at: 333.15,
                words: "limit 60.0".to_owned(),
            },
            StationLimit {
                station: 7,
                at: 1023.15,
                words: "limit 750.0".to_owned(),
            },
        ],
    }
}

/// The split of the invented build.
pub fn split() -> Split<'static> {
    let share = |row: &demo_map::Row| {
        let (a, b) = (row.supercharger_ratio.ln(), row.turbo_ratio.ln());
        a / (a + b)
    };
    Split {
        title: "The supercharger carries the bottom; the turbo takes over at 2,256 rpm",
        subtitle: "who makes the boost",
        note: "",
        speed: SPEED,
        share: Axis {
            words: "share of the boost, % (by logarithm)",
            shown: &|v| v * 100.0,
        },
        speeds: ROWS.iter().map(|row| row.rpm).collect(),
        stages: vec![
            StageShare {
                name: "supercharger".to_owned(),
                shares: ROWS.iter().map(|row| Some(share(row))).collect(),
            },
            StageShare {
                name: "turbo".to_owned(),
                shares: ROWS.iter().map(|row| Some(1.0 - share(row))).collect(),
            },
        ],
        events: events(),
        jumps: Vec::new(),
    }
}

/// Where the power goes of the invented build.
pub fn stack() -> Stack<'static> {
    let layer = |name: &str, ground: usize, share: fn(usize) -> f64| Layer {
        name: name.to_owned(),
        ground,
        amounts: (0..ROWS.len())
            .map(|row| Some(60e3 * (1.0 + 0.2 * row as f64) * share(row)))
            .collect(),
    };
    Stack {
        title: "202 of 234 kW reach the crank at 3,200 rpm",
        subtitle: "from gross indicated down to brake",
        note: "Estimate for an invented build.",
        speed: SPEED,
        amount: Axis {
            words: "power, kW",
            shown: &|v| v / 1000.0,
        },
        speeds: ROWS.iter().map(|row| row.rpm).collect(),
        layers: vec![
            layer("brake", 0, |row| 0.86 - 0.002 * row as f64),
            layer("supercharger drive", 1, |row| {
                (0.06 - 0.01 * row as f64).max(0.0)
            }),
            layer("friction", 2, |row| 0.09 + 0.002 * row as f64),
            layer("pumping", 3, |row| (0.01 * (row as f64 - 6.0)).max(0.0)),
        ],
        whole: layer("gross indicated", 0, |_| 1.0),
        events: events(),
        jumps: Vec::new(),
    }
}

fn events() -> Vec<Event> {
    vec![
        Event {
            at: 2256.0,
            words: "hand-over 2,256".to_owned(),
        },
        Event {
            at: 2465.0,
            words: "wastegate 2,465".to_owned(),
        },
    ]
}

/// Boost by each stage alone and by both.
pub fn layout() -> LayoutBoost<'static> {
    let rows = |values: &[(f64, f64)]| -> Vec<(f64, Option<f64>)> {
        values
            .iter()
            .map(|&(rpm, boost)| (rpm, Some(SITE + boost * 1000.0)))
            .collect()
    };
    let speeds = [1200.0, 1600.0, 2000.0, 2200.0, 2400.0, 2800.0, 3200.0];
    let with = |boosts: [f64; 7]| rows(&std::array::from_fn::<_, 7, _>(|i| (speeds[i], boosts[i])));
    LayoutBoost {
        title: "Below 2,256 rpm the pulley sets the boost; above it the turbo does",
        subtitle: "each machine alone and both together",
        note: "",
        speed: SPEED,
        boost: BOOST,
        supercharger_alone: with([78.0, 85.0, 89.0, 91.0, 93.0, 96.0, 98.0]),
        turbo_alone: with([7.0, 16.0, 43.0, 79.0, 175.0, 185.0, 185.0]),
        together: rows(&ROWS.each_ref().map(|row| (row.rpm, row.boost))),
        jumps: Vec::new(),
        events: events(),
        limits: vec![Limit {
            at: SITE + 185e3,
            words: "gate opens at 185 kPa".to_owned(),
        }],
        bands: vec![Band {
            words: "95 % of cases".to_owned(),
            lower: ROWS
                .iter()
                .map(|row| [row.rpm, SITE + 0.9e3 * row.boost])
                .collect(),
            upper: ROWS
                .iter()
                .map(|row| [row.rpm, SITE + 1.1e3 * row.boost])
                .collect(),
        }],
    }
}

/// Lines with limits and a band.
pub fn curves() -> Curves<'static> {
    let line = |pick: fn(&demo_map::Row) -> f64| -> Vec<[f64; 2]> {
        ROWS.iter()
            .map(|row| [row.rpm, SITE + 1000.0 * pick(row)])
            .collect()
    };
    Curves {
        title: "Drive pressure passes manifold pressure above 3,000 rpm",
        subtitle: "what the turbine asks of the cylinders",
        note: "",
        x: SPEED,
        y: Axis {
            words: "pressure, kPa absolute",
            shown: &|v| v / 1000.0,
        },
        series: vec![
            Series {
                name: "manifold".to_owned(),
                pieces: vec![line(|row| row.boost)],
                ..Series::default()
            },
            Series {
                name: "ahead of the turbine".to_owned(),
                pieces: vec![line(|row| row.drive)],
                ..Series::default()
            },
        ],
        events: events(),
        limits: vec![Limit {
            at: 400e3,
            words: "manifold limit 400 kPa".to_owned(),
        }],
        bands: vec![Band {
            words: "turbine ±10 %".to_owned(),
            lower: line(|row| row.drive * 0.9),
            upper: line(|row| row.drive * 1.1),
        }],
    }
}

/// Words that try to break out of the drawing or out of their room.
pub fn wild_words() -> Vec<String> {
    vec![
        "</text></svg><script>alert('x')</script>&amp;&#0;\"]]>".to_owned(),
        "WWWW ".repeat(400),
        "W".repeat(3000),
        "\u{0}\u{1}\u{7f}\u{FFFF}\u{202E}right to left\n\r\ttab".to_owned(),
        "η·°²³ ж 漢字 🚗 e\u{301}".to_owned(),
        " ".to_owned(),
    ]
}
