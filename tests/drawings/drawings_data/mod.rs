//! The drawings of one invented build, filled in.

use airpath::plot::{
    Amount, Area, Axis, Chart, CompressorMap, Contour, Entry, Layer, Line, Mark, Meaning, Naming,
    OperatingLine, OperatingPoint, Panel, Point, PointKind, Points, Run, Sample, SpeedLine,
    StationLimit, Stations, stacked,
};

use crate::demo_map::{self, ROWS};

/// Site pressure of the invented build, Pa (1600 m).
pub const SITE: f64 = 83_500.0;

const NOTE: &str = "Estimates only, for an invented build.";
const SPEED: Axis = Axis {
    words: "engine speed, rpm",
    shown: &|v| v,
};
const BOOST: Axis = Axis {
    words: "boost at the manifold, kPa gauge",
    shown: &|v| (v - SITE) / 1000.0,
};
const SHARE: Axis = Axis {
    words: "share, %",
    shown: &|v| 100.0 * v,
};
const TEMPERATURE: Axis = Axis {
    words: "temperature, °C",
    shown: &|v| v - 273.15,
};

/// A chart over engine speed.
pub fn over_speed(title: &'static str, panels: Vec<Panel<'static>>) -> Chart<'static> {
    Chart {
        title,
        subtitle: "full load",
        note: NOTE,
        x: SPEED,
        panels,
        legend: Vec::new(),
    }
}

fn mark(at: f64, words: &str) -> Mark {
    Mark {
        at,
        words: words.to_owned(),
    }
}

fn events() -> [Layer; 2] {
    [
        Layer::Event(mark(2256.0, "hand-over 2,256 rpm")),
        Layer::Event(mark(2465.0, "wastegate 2,465 rpm")),
    ]
}

/// A line over engine speed.
pub fn line(name: &str, meaning: Meaning, rows: &[(f64, f64)], jumps: &[(f64, f64)]) -> Layer {
    let rows = rows.iter().map(|&(rpm, value)| (rpm, Some(value)));
    Layer::Line(Line::from_rows(name, meaning, rows, jumps))
}

/// Boost of the invented build: rpm, Pa.
pub fn boost_rows() -> Vec<(f64, f64)> {
    let rows = ROWS.iter();
    rows.map(|row| (row.rpm, SITE + 1000.0 * row.boost))
        .collect()
}

/// Boost by each machine alone and by both, with a limit, events and a band.
pub fn boost() -> Chart<'static> {
    let speeds = [1200.0, 1600.0, 2000.0, 2200.0, 2400.0, 2800.0, 3200.0];
    let rows = |boosts: [f64; 7]| -> Vec<(f64, f64)> {
        let boosts = boosts.map(|kpa| SITE + 1000.0 * kpa);
        speeds.into_iter().zip(boosts).collect()
    };
    let edge = |factor: f64| {
        let rows = ROWS.iter();
        rows.map(|row| [row.rpm, SITE + factor * 1e3 * row.boost])
            .collect()
    };
    let mut layers = vec![
        Layer::Area(Area {
            name: "grey: 95 % interval".to_owned(),
            meaning: Meaning::Spread,
            naming: Naming::Beside,
            pieces: vec![[edge(0.9), edge(1.1)]],
        }),
        Layer::Limit(mark(SITE + 210e3, "limit 210 kPa")),
        line("together", Meaning::Together, &boost_rows(), &[]),
        line(
            "turbo alone",
            Meaning::Turbo,
            &rows([7.0, 16.0, 43.0, 79.0, 175.0, 185.0, 185.0]),
            &[],
        ),
        line(
            "supercharger alone",
            Meaning::Supercharger,
            &rows([78.0, 85.0, 89.0, 91.0, 93.0, 96.0, 98.0]),
            &[],
        ),
    ];
    layers.extend(events());
    let title = "Below 2,256 rpm the pulley sets the boost; above it the turbo does";
    over_speed(title, vec![Panel::new(BOOST, layers)])
}

/// Boost of four builds.
pub fn comparison() -> Chart<'static> {
    let one = |name: &str, meaning, less: f64| {
        let rows: Vec<_> = boost_rows()
            .iter()
            .map(|row| (row.0, row.1 - less))
            .collect();
        line(name, meaning, &rows, &[])
    };
    let layers = vec![
        one("the build", Meaning::Together, 0.0),
        one("at 2,900 m", Meaning::Compared(1), 14e3),
        one("slower pulley", Meaning::Compared(2), 6e3),
        one("hot day", Meaning::Compared(3), 3e3),
    ];
    let title = "At 1,200 rpm boost runs from 70 (at 2,900 m) to 84 kPa (the build)";
    over_speed(title, vec![Panel::new(BOOST, layers)])
}

/// The stages' shares at every speed.
pub fn shares() -> [Amount; 2] {
    let share = |row: &demo_map::Row| {
        let (a, b) = (row.supercharger_ratio.ln(), row.turbo_ratio.ln());
        a / (a + b)
    };
    let amount = |name: &str, meaning, values: Vec<f64>| Amount {
        name: name.to_owned(),
        meaning,
        values: values.into_iter().map(Some).collect(),
    };
    let own: Vec<f64> = ROWS.iter().map(share).collect();
    let rest = own.iter().map(|share| 1.0 - share).collect();
    [
        amount("supercharger", Meaning::Supercharger, own),
        amount("turbo", Meaning::Turbo, rest),
    ]
}

/// The split of the boost.
pub fn split(shares: &[Amount], jumps: &[(f64, f64)]) -> Chart<'static> {
    let speeds: Vec<f64> = ROWS.iter().map(|row| row.rpm).collect();
    let mut layers = stacked(&speeds, shares, jumps).unwrap();
    layers.extend(events());
    let covers = speeds
        .iter()
        .flat_map(|&rpm| [[rpm, 0.0], [rpm, 1.0]])
        .collect();
    let panel = Panel {
        covers,
        ..Panel::new(SHARE, layers)
    };
    over_speed("The turbo takes over at 2,256 rpm", vec![panel])
}

/// Where the power goes: four amounts under the line of the whole.
pub fn power() -> Chart<'static> {
    let speeds: Vec<f64> = ROWS.iter().map(|row| row.rpm).collect();
    let gross = |row: usize| 60e3 * (1.0 + 0.2 * row as f64);
    let amount = |name: &str, meaning, share: fn(f64) -> f64| Amount {
        name: name.to_owned(),
        meaning,
        values: (0..ROWS.len())
            .map(|row| Some(gross(row) * share(row as f64)))
            .collect(),
    };
    let amounts = [
        amount("brake", Meaning::Together, |row| 0.86 - 0.002 * row),
        amount("supercharger drive", Meaning::Supercharger, |row| {
            (0.06 - 0.01 * row).max(0.0)
        }),
        amount("friction", Meaning::Friction, |row| 0.09 + 0.002 * row),
        amount("pumping", Meaning::Pumping, |row| {
            (0.01 * (row - 6.0)).max(0.0)
        }),
    ];
    let mut layers = stacked(&speeds, &amounts, &[]).unwrap();
    let whole: Vec<(f64, f64)> = speeds
        .iter()
        .enumerate()
        .map(|(row, &rpm)| (rpm, gross(row)))
        .collect();
    layers.push(line("gross indicated", Meaning::Together, &whole, &[]));
    layers.extend(events());
    let axis = Axis {
        words: "power, kW",
        shown: &|v| v / 1000.0,
    };
    over_speed(
        "165 of 192 kW reach the crank at 3,200 rpm",
        vec![Panel::new(axis, layers)],
    )
}

/// Two panels over one axis, with a limit in each and an event through both.
pub fn panels() -> Chart<'static> {
    let rows = |from: f64, to: f64| -> Vec<(f64, f64)> {
        let shares = (0..=20).map(|i| f64::from(i) / 20.0);
        shares
            .map(|t| (1200.0 + 2000.0 * t, from + (to - from) * t * t))
            .collect()
    };
    let effectiveness = Axis {
        words: "effectiveness, %",
        ..SHARE
    };
    let upper = vec![
        line("this cooler", Meaning::Together, &rows(0.80, 0.71), &[]),
        Layer::Limit(mark(0.79, "needed 79.0 %")),
        Layer::Event(mark(3200.0, "most heat, 3,200 rpm")),
    ];
    let lower = vec![
        line("cooler outlet", Meaning::Together, &rows(320.0, 345.0), &[]),
        line("cooling air in", Meaning::Coolant, &rows(297.0, 297.0), &[]),
        Layer::Limit(mark(333.15, "target 60.0 °C")),
    ];
    let title = "The cooler is short by 6.5 %: the charge reaches 68.4 °C at 3,200 rpm";
    over_speed(
        title,
        vec![
            Panel::new(effectiveness, upper),
            Panel::new(TEMPERATURE, lower),
        ],
    )
}

/// A gain that grows, turns, and falls along its cost, with named choices.
pub fn depth() -> Chart<'static> {
    let at = |depth: f64| {
        [
            6e3 * depth,
            1.0 + 0.5 * (1.0 - (-1.4 * depth).exp()) - 0.02 * depth,
        ]
    };
    let point = |depth: f64, words: &str, kind| Point {
        at: at(depth),
        words: words.to_owned(),
        kind,
    };
    let path = (10..=50).map(|i| at(f64::from(i) / 20.0)).collect();
    let layers = vec![
        Layer::Line(Line::plain(
            "depths",
            Meaning::Together,
            Naming::Elsewhere,
            path,
        )),
        Layer::Points(Points {
            meaning: Meaning::Together,
            gap: 0.0,
            name_gap: 0.0,
            points: vec![
                point(1.0, "this build, 1.0×", PointKind::StandsOut),
                point(1.98, "worthwhile up to 2.0×", PointKind::StandsOut),
                point(0.5, "0.5×", PointKind::Plain),
                point(1.5, "1.5×", PointKind::Plain),
                point(2.5, "2.5×", PointKind::Plain),
            ],
        }),
    ];
    let density = Axis {
        words: "charge density, outlet over inlet",
        shown: &|v| v,
    };
    Chart {
        x: Axis {
            words: "pressure drop of the charge, kPa",
            shown: &|v| v / 1000.0,
        },
        ..over_speed(
            "Core depth is worthwhile up to about 2.0×",
            vec![Panel::new(density, layers)],
        )
    }
}

/// All charts.
pub fn charts() -> Vec<(&'static str, Chart<'static>)> {
    let mut with_legend = comparison();
    with_legend.legend = vec![
        Entry {
            sample: Sample::Line(Meaning::Together),
            words: "the build".to_owned(),
        },
        Entry {
            sample: Sample::Outside,
            words: "point beyond the data".to_owned(),
        },
    ];
    vec![
        ("boost", boost()),
        ("comparison", with_legend),
        ("split", split(&shares(), &[])),
        ("power", power()),
        ("panels", panels()),
        ("depth", depth()),
    ]
}

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
            .map(|&level| Contour {
                level,
                label: format!("{:.0} %", level * 100.0),
                rings: vec![demo_map::island(level)],
            })
            .collect(),
        hull: demo_map::hull(),
        operating_lines: vec![operating_line(
            "engine at full load, rpm",
            Meaning::Together,
            1.0,
            1.0,
        )],
    }
}

/// A line on the map whose flows and pressure rises are others times the build's.
pub fn operating_line(name: &str, meaning: Meaning, flow: f64, rise: f64) -> OperatingLine {
    let point = |row: &demo_map::Row| {
        let ratio = 1.0 + (row.turbo_ratio - 1.0) * rise;
        OperatingPoint {
            rpm: row.rpm,
            at: [row.flow * flow, ratio],
            inside: ratio < 3.55,
        }
    };
    OperatingLine {
        name: name.to_owned(),
        meaning,
        points: ROWS.iter().map(point).collect(),
        jumps: Vec::new(),
        gaps: Vec::new(),
    }
}

/// Pressure and temperature along the stations at three speeds.
pub fn stations() -> Stations<'static> {
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
    let limit = |station, at, words: &str| StationLimit {
        station,
        at,
        words: words.to_owned(),
    };
    Stations {
        title: "The cooler takes 126 K out of the charge at 3,200 rpm",
        subtitle: "from the air outside to the tailpipe",
        note: "",
        pressure: Axis {
            words: "pressure, kPa absolute",
            shown: &|v| v / 1000.0,
        },
        temperature: TEMPERATURE,
        stations: names.map(str::to_owned).into(),
        exhaust_from: Some(7),
        runs: [0, 5, 11].map(|place| run(&ROWS[place])).into(),
        pressure_limits: vec![limit(6, 275e3, "limit 275.0")],
        temperature_limits: vec![
            limit(4, 473.15, "limit 200.0"),
            limit(6, 333.15, "limit 60.0"),
            limit(7, 1023.15, "limit 750.0"),
        ],
    }
}

fn run(row: &demo_map::Row) -> Run {
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
        name: format!("{:.0} rpm", row.rpm),
        pressures: pressures.map(Some).into(),
        temperatures: temperatures.map(|celsius| Some(celsius + 273.15)).into(),
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
