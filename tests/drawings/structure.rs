//! Every drawing with ordinary and hostile data, held to the structural checks.
//!
//! With `AIRPATH_PICTURES=folder` in the environment the drawings are also written there, to be
//! looked at.

use crate::{demo_map, drawings_data, svg_check};
use airpath::plot::{
    Area, Axis, Chart, Drawing, Layer, Line, Mark, Meaning, Naming, Panel, PlotError, stacked,
};
use drawings_data::{
    boost, boost_rows, charts, comparison, depth, line, map, operating_line, over_speed, panels,
    power, shares, split, stations, wild_words,
};
use svg_check::{assert_holds, heavy_strokes};

/// Colours of the lines of a meaning, as the SVG writes them.
const TOGETHER: &str = "#0E2850";
const TURBO: &str = "#BE4810";
const SUPERCHARGER: &str = "#2C9EAA";
const COMPARED: [&str; 3] = ["#8C46AA", "#CEA428", "#60281C"];
const LIMIT: &str = "#B41446";

/// Checks a drawing, and writes it where the environment asks for pictures.
fn hold(name: &str, drawing: Result<Drawing, PlotError>) -> Drawing {
    let drawing = drawing.unwrap_or_else(|error| panic!("{name}: {error}"));
    if let Some(folder) = std::env::var_os("AIRPATH_PICTURES") {
        let path = std::path::Path::new(&folder).join(format!("{name}.svg"));
        std::fs::write(path, &drawing.svg).unwrap();
    }
    assert_holds(name, &drawing);
    drawing
}

/// Stops unless each of the words stands in the drawing once.
fn assert_says(drawing: &Drawing, wanted: &[&str]) {
    let words = words(drawing);
    for one in wanted {
        let count = words.iter().filter(|word| *word == one).count();
        assert_eq!(count, 1, "{one:?} in {words:?}");
    }
}

fn words(drawing: &Drawing) -> Vec<&str> {
    drawing
        .labels
        .iter()
        .map(|label| label.words.as_str())
        .collect()
}

/// How many shapes a test of an SVG's line finds.
fn count(drawing: &Drawing, is_one: impl Fn(&str) -> bool) -> usize {
    drawing.svg.lines().filter(|line| is_one(line)).count()
}

/// Short dashes of a jump's connector in one colour: the drawn width is its own.
fn connector_dashes(drawing: &Drawing, colour: &str) -> usize {
    count(drawing, |line| {
        line.contains("<polyline") && line.contains(colour) && line.contains("stroke-width=\"18\"")
    })
}

fn areas(drawing: &Drawing) -> usize {
    count(drawing, |line| line.contains("<polygon"))
}

/// The layers of a chart's only panel.
fn layers<'c>(chart: &'c mut Chart<'_>) -> &'c mut Vec<Layer> {
    &mut chart.panels[0].layers
}

fn mark(at: f64, words: &str) -> Mark {
    Mark {
        at,
        words: words.to_owned(),
    }
}

#[test]
fn every_chart_holds_and_names_all_that_it_shows() {
    let wanted: [&[&str]; 6] = [
        &[
            "together",
            "turbo alone",
            "hand-over 2,256 rpm",
            "wastegate 2,465 rpm",
            "limit 210 kPa",
            "grey: 95 % interval",
            "engine speed, rpm",
        ],
        &[
            "at 2,900 m",
            "slower pulley",
            "hot day",
            "point beyond the data",
        ],
        &["supercharger", "turbo", "share, %"],
        &["brake", "friction", "pumping", "power, kW"],
        // One level axis, named once, and an event through all panels.
        &[
            "engine speed, rpm",
            "most heat, 3,200 rpm",
            "needed 79.0 %",
            "target 60.0 °C",
            "this cooler",
            "cooler outlet",
        ],
        &[
            "this build, 1.0×",
            "worthwhile up to 2.0×",
            "0.5×",
            "1.5×",
            "2.5×",
        ],
    ];
    for ((name, chart), wanted) in charts().into_iter().zip(wanted) {
        assert_says(&hold(name, chart.draw()), wanted);
    }
}

#[test]
fn the_invented_map_names_its_speeds_edges_and_islands() {
    let drawing = hold("map", map().draw());
    assert_says(
        &drawing,
        &[
            "surge",
            "choke",
            "1,200",
            "3,200",
            "beyond the data",
            "efficiency",
        ],
    );
    for speed in demo_map::SPEEDS {
        assert_says(&drawing, &[&format!("{}k", speed / 1000.0)]);
    }
}

/// Where the drawing has to show a value, in sheet units.
fn place(drawing: &Drawing, axis: usize, shown: f64) -> f64 {
    let axis = &drawing.axes[axis];
    let share = (shown - axis.span.0) / (axis.span.1 - axis.span.0);
    axis.places.0 + share * (axis.places.1 - axis.places.0)
}

/// Distance of a place from the nearest heavy line of a colour, in sheet units.
fn from_line(drawing: &Drawing, colour: &str, [x, y]: [f64; 2]) -> f64 {
    let document = roxmltree::Document::parse(&drawing.svg).unwrap();
    let strokes: Vec<_> = heavy_strokes(document.root_element(), colour).collect();
    let pairs = strokes.iter().flat_map(|points| points.windows(2));
    let distances = pairs.map(|pair| {
        let [a, b] = [pair[0], pair[1]].map(|point| point.map(|fine| fine / 10.0));
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let along = ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy).max(1e-9);
        let t = along.clamp(0.0, 1.0);
        (a[0] + t * dx - x).hypot(a[1] + t * dy - y)
    });
    distances.fold(f64::MAX, f64::min)
}

#[test]
fn every_value_is_drawn_at_its_place_in_the_colour_of_its_meaning() {
    let drawing = boost().draw().unwrap();
    let Layer::Line(turbo) = &boost().panels[0].layers[3] else {
        panic!("the third line")
    };
    let turbo: Vec<(f64, f64)> = turbo.pieces[0]
        .iter()
        .map(|point| (point[0], point[1]))
        .collect();
    // A point of a dashed line may fall between two dashes.
    for (colour, rows, near) in [(TOGETHER, boost_rows(), 0.2), (TURBO, turbo, 5.2)] {
        for (rpm, pressure) in rows {
            let kpa = (pressure - drawings_data::SITE) / 1000.0;
            let at = [place(&drawing, 0, rpm), place(&drawing, 1, kpa)];
            let away = from_line(&drawing, colour, at);
            assert!(away <= near, "{colour} at {rpm} rpm: {away} away");
        }
    }
    let limit = [place(&drawing, 0, 1500.0), place(&drawing, 1, 210.0)];
    assert!(from_line(&drawing, LIMIT, limit) < 3.2);

    let map = map();
    let drawing = map.draw().unwrap();
    for point in &map.operating_lines[0].points {
        let at = [
            place(&drawing, 0, point.at[0]),
            place(&drawing, 1, point.at[1]),
        ];
        assert!(from_line(&drawing, TOGETHER, at) < 0.6, "{point:?}");
    }
    for point in &map.surge {
        let at = [place(&drawing, 0, point[0]), place(&drawing, 1, point[1])];
        assert!(from_line(&drawing, LIMIT, at) < 0.6, "{point:?}");
    }
}

#[test]
fn one_colour_says_one_thing_in_every_drawing() {
    let has = |drawing: &Drawing, colour: &str| count(drawing, |line| line.contains(colour)) > 0;
    let [boost, comparison, map] =
        [boost().draw(), comparison().draw(), map().draw()].map(Result::unwrap);
    for drawing in [&boost, &comparison, &map] {
        assert!(has(drawing, TOGETHER));
    }
    for colour in [TURBO, SUPERCHARGER] {
        assert!(has(&boost, colour) && !has(&comparison, colour) && !has(&map, colour));
    }
    for colour in COMPARED {
        assert!(has(&comparison, colour) && !has(&boost, colour));
    }
    assert!(has(&boost, LIMIT) && has(&map, LIMIT) && !has(&comparison, LIMIT));
    // The areas of the split are the pale colours of the same two machines, in the power drawing too.
    let (split, power) = (
        split(&shares(), &[]).draw().unwrap(),
        power().draw().unwrap(),
    );
    assert!(has(&split, "#80BEC4") && has(&split, "#F6D2B4"));
    assert!(has(&power, "#80BEC4") && !has(&power, "#F6D2B4"));
}

#[test]
fn four_lines_on_one_map_are_told_apart_and_a_fifth_is_refused() {
    let mut map = map();
    map.operating_lines = vec![
        operating_line("the build", Meaning::Together, 1.0, 1.0),
        operating_line("at 2,900 m", Meaning::Compared(1), 1.04, 1.18),
        operating_line("slower pulley", Meaning::Compared(2), 0.97, 1.0),
        operating_line("hot day", Meaning::Compared(3), 0.93, 1.0),
    ];
    let drawing = hold("map-four-lines", map.draw());
    assert_says(
        &drawing,
        &[
            "the build",
            "at 2,900 m",
            "slower pulley",
            "hot day",
            "point beyond the data",
        ],
    );
    // Each of the four colours is drawn on the map and in the legend.
    for colour in COMPARED.into_iter().chain([TOGETHER]) {
        assert!(
            count(&drawing, |line| line.contains(colour)) > 4,
            "{colour}"
        );
    }
    map.operating_lines.push(map.operating_lines[0].clone());
    assert!(matches!(
        map.draw(),
        Err(PlotError::TooMany {
            count: 5,
            most: 4,
            ..
        })
    ));
}

#[test]
fn air_and_exhaust_have_temperature_scales_of_their_own() {
    let drawing = hold("stations", stations().draw());
    let named = |what: &str| {
        let axes = drawing.axes.iter().filter(|axis| axis.words.contains(what));
        axes.map(|axis| axis.span).collect::<Vec<_>>()
    };
    assert_eq!(named("pressure").len(), 1);
    let [air, exhaust] = named("temperature")[..] else {
        panic!("{:?}", drawing.axes);
    };
    assert!(air.1 <= 300.0 && exhaust.0 >= 200.0, "{air:?} {exhaust:?}");
    assert_says(
        &drawing,
        &[
            "manifold",
            "limit 275.0",
            "limit 200.0",
            "limit 60.0",
            "limit 750.0",
        ],
    );
    // Without an engine between the stations one scale is enough.
    let mut open = stations();
    open.exhaust_from = None;
    assert_eq!(hold("stations-one-scale", open.draw()).axes.len(), 2);
}

#[test]
fn a_remark_above_the_standing_one_keeps_all_its_words() {
    let mut stations = stations();
    stations.note = "over: turbo compressor outlet temperature (compressor 2 outlet) 233.4 °C at \
                     3,200 rpm, at most 200.0 °C\nEstimates only.";
    let drawing = hold("stations-remarks", stations.draw());
    let words = words(&drawing);
    assert!(
        words.join(" ").contains("at 3,200 rpm, at most 200.0 °C"),
        "{words:?}"
    );
    assert_eq!(words.last(), Some(&"Estimates only."));
}

#[test]
fn a_stack_hangs_below_zero_and_reaches_its_whole() {
    let mut restricts = shares();
    for (row, share) in (6..12).zip([-0.03, -0.08, -0.11, -0.14, -0.16, -0.18]) {
        restricts[0].values[row] = Some(share);
        restricts[1].values[row] = Some(1.0 - share);
    }
    let drawing = hold("split-restricts", split(&restricts, &[]).draw());
    assert!(drawing.axes[1].span.0 <= -18.0 && drawing.axes[1].span.1 >= 118.0);
    let (low, high) = hold("power", power().draw()).axes[1].span;
    assert!(low.abs() < 1e-9 && high >= 192.0, "{low} {high}");
}

#[test]
fn a_stack_with_a_gap_or_a_jump_ends_there_and_a_wrong_one_is_refused() {
    let whole = hold("split", split(&shares(), &[]).draw());
    let mut gap = shares();
    gap[0].values[4] = None;
    assert!(areas(&hold("split-gap", split(&gap, &[]).draw())) > areas(&whole));
    let speeds: Vec<f64> = demo_map::ROWS.iter().map(|row| row.rpm).collect();
    let jump = split(&shares(), &[(speeds[3], speeds[4])]);
    assert!(areas(&hold("split-jump", jump.draw())) > areas(&whole));
    let none = shares().map(|amount| airpath::plot::Amount {
        values: vec![None; speeds.len()],
        ..amount
    });
    assert_says(
        &hold(
            "split-none",
            over_speed("", vec![panel(stacked(&speeds, &none, &[]).unwrap())]).draw(),
        ),
        &["no point to draw"],
    );
    let mut uneven = shares();
    uneven[0].values.pop();
    let error = stacked(&speeds, &uneven, &[]).unwrap_err();
    assert!(matches!(
        error,
        PlotError::Uneven {
            found: 11,
            expected: 12,
            ..
        }
    ));
    let mut infinite = shares();
    infinite[1].values[5] = Some(f64::INFINITY);
    let error = stacked(&speeds, &infinite, &[]).unwrap_err();
    assert!(matches!(error, PlotError::NotFinite { place: 6, .. }));
}

/// A panel with these layers.
fn panel(layers: Vec<Layer>) -> Panel<'static> {
    Panel::new(boost().panels[0].y, layers)
}

/// Cuts all data of a layer to a number of points.
fn truncate(layer: &mut Layer, count: usize) {
    match layer {
        Layer::Line(line) => line
            .pieces
            .iter_mut()
            .for_each(|piece| piece.truncate(count)),
        Layer::Area(area) => {
            area.pieces
                .iter_mut()
                .flatten()
                .for_each(|edge| edge.truncate(count));
        }
        Layer::Points(points) => points.points.truncate(count),
        _ => {}
    }
}

#[test]
fn drawings_without_points_with_one_and_with_two() {
    for count in 0..3 {
        for (name, mut chart) in charts() {
            for panel in &mut chart.panels {
                panel
                    .layers
                    .retain(|layer| !matches!(layer, Layer::Event(_) | Layer::Limit(_)));
                panel
                    .layers
                    .iter_mut()
                    .for_each(|layer| truncate(layer, count));
            }
            hold(&format!("{name}-{count}-points"), chart.draw());
        }
        let mut map = map();
        map.operating_lines[0].points.truncate(count);
        hold(&format!("map-{count}-points"), map.draw());
        map.speed_lines
            .iter_mut()
            .for_each(|line| line.points.truncate(count));
        map.islands
            .iter_mut()
            .for_each(|island| island.rings[0].truncate(count));
        for edge in [&mut map.surge, &mut map.choke, &mut map.hull] {
            edge.truncate(count);
        }
        hold(&format!("map-all-{count}-points"), map.draw());
        let mut stations = stations();
        stations.stations.truncate(count);
        for run in &mut stations.runs {
            run.pressures.truncate(count);
            run.temperatures.truncate(count);
        }
        stations.pressure_limits.clear();
        stations.temperature_limits.clear();
        hold(&format!("stations-{count}"), stations.draw());
    }
}

#[test]
fn nothing_at_all_is_still_a_readable_drawing() {
    assert_says(
        &hold("nothing", over_speed("", vec![panel(Vec::new())]).draw()),
        &["no point to draw"],
    );
    hold("no-panel", over_speed("", Vec::new()).draw());
    let mut map = map();
    map.islands.clear();
    map.hull.clear();
    map.choke.clear();
    map.operating_lines.clear();
    hold("map-lines-alone", map.draw());
}

#[test]
fn equal_values_get_axes_with_a_width() {
    let mut map = map();
    map.operating_lines[0]
        .points
        .iter_mut()
        .for_each(|point| point.at = [0.2, 2.0]);
    hold("map-equal-points", map.draw());
    map.speed_lines.clear();
    map.islands.clear();
    for edge in [&mut map.hull, &mut map.surge, &mut map.choke] {
        edge.clear();
    }
    hold("map-one-place", map.draw());
    let equal = line("x", Meaning::Together, &[(2000.0, 1e5); 4], &[]);
    hold("equal", over_speed("", vec![panel(vec![equal])]).draw());
}

#[test]
fn no_line_lies_on_the_edge_of_its_frame() {
    for (name, level) in [("top", 110e3), ("whole", 200e3), ("flat", 83_500.0 + 50e3)] {
        let rows = [
            (2000.0, 83_500.0 + 40e3),
            (3000.0, 83_500.0 + level),
            (6500.0, 83_500.0 + level),
        ];
        let one = line("together", Meaning::Together, &rows, &[]);
        let drawing = hold(name, over_speed("", vec![panel(vec![one])]).draw());
        let upright = &drawing.axes[1];
        let room = 0.015 * (upright.span.1 - upright.span.0);
        assert!(upright.span.1 - level / 1e3 > room, "{name}: {upright:?}");
        assert!(drawing.axes[0].span.0 < 2000.0 && drawing.axes[0].span.1 > 6500.0);
    }
}

#[test]
fn a_panel_whose_values_hardly_change_is_low() {
    let mut chart = panels();
    let height = |chart: &Chart, at: usize| {
        let drawing = hold("panels", chart.draw());
        let upright = drawing
            .axes
            .iter()
            .filter(|axis| axis.places.0 > axis.places.1);
        let heights: Vec<f64> = upright.map(|axis| axis.places.0 - axis.places.1).collect();
        heights[at]
    };
    let before = height(&chart, 0);
    let flat = line(
        "x",
        Meaning::Together,
        &[(1200.0, 0.80), (3200.0, 0.805)],
        &[],
    );
    chart.panels[0].layers = vec![flat];
    assert!(height(&chart, 0) < 0.6 * before);
}

#[test]
fn a_point_far_outside_the_map_widens_the_axes() {
    let mut map = map();
    let last = map.operating_lines[0].points.last_mut().unwrap();
    (last.at, last.inside) = ([0.9, 6.0], false);
    let drawing = hold("map-far-point", map.draw());
    assert!(drawing.axes[0].span.1 >= 0.9 && drawing.axes[1].span.1 >= 6.0);
}

#[test]
fn a_line_of_a_million_points_is_thinned() {
    let started = std::time::Instant::now();
    let rows = (0..1_000_000_u32).map(|i| {
        let (rpm, wave) = (1200.0 + 2e-3 * f64::from(i), f64::from(i % 1000) / 1e3);
        (rpm, Some(1e5 * (1.0 + wave)))
    });
    let scribble = Layer::Line(Line::from_rows("x", Meaning::Together, rows, &[]));
    let drawing = hold(
        "million",
        over_speed("", vec![panel(vec![scribble])]).draw(),
    );
    assert!(drawing.svg.len() < 1_000_000, "{} bytes", drawing.svg.len());

    let mut map = map();
    let point = |i: u32| airpath::plot::OperatingPoint {
        rpm: 1200.0 + 2e-3 * f64::from(i),
        at: [0.06 + 2.9e-7 * f64::from(i), 1.2 + 2e-6 * f64::from(i)],
        inside: true,
    };
    map.operating_lines[0].points = (0..1_000_000).map(point).collect();
    let drawing = hold("map-million", map.draw());
    assert!(drawing.svg.len() < 1_000_000, "{} bytes", drawing.svg.len());
    // Seconds would mean work that grows with the square of the points.
    assert!(started.elapsed().as_secs() < 20, "{:?}", started.elapsed());
}

#[test]
fn a_number_that_is_not_finite_is_an_error_that_names_its_place() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let mut rows = boost_rows();
        rows[2].1 = bad;
        let spoiled = over_speed(
            "",
            vec![panel(vec![line("together", Meaning::Together, &rows, &[])])],
        );
        let what = "together".to_owned();
        assert_eq!(
            spoiled.draw().unwrap_err(),
            PlotError::NotFinite { what, place: 3 }
        );
        for layer in [Layer::Event(mark(bad, "x")), Layer::Limit(mark(bad, "x"))] {
            let mut chart = boost();
            layers(&mut chart).push(layer);
            assert!(matches!(chart.draw(), Err(PlotError::NotFinite { .. })));
        }
        let spoil = |change: fn(&mut airpath::plot::CompressorMap, f64)| {
            let mut map = map();
            change(&mut map, bad);
            map.draw().unwrap_err()
        };
        let error = spoil(|map, bad| map.operating_lines[0].points[4].at[1] = bad);
        assert!(matches!(error, PlotError::NotFinite { place: 5, .. }));
        spoil(|map, bad| map.operating_lines[0].points[4].rpm = bad);
        spoil(|map, bad| map.islands[0].level = bad);
        spoil(|map, bad| map.hull[1][0] = bad);
        let mut stations = stations();
        stations.runs[1].temperatures[3] = Some(bad);
        assert!(matches!(
            stations.draw(),
            Err(PlotError::NotFinite { place: 4, .. })
        ));
    }
    let mut chart = boost();
    chart.panels[0].y = Axis {
        words: "boost",
        shown: &|_| f64::NAN,
    };
    assert!(chart.draw().is_err());
    let large = line("x", Meaning::Together, &[(1.0, 1e300)], &[]);
    let error = over_speed("", vec![panel(vec![large])]).draw().unwrap_err();
    assert!(matches!(error, PlotError::TooLarge { .. }));
}

#[test]
fn more_than_a_reader_tells_apart_and_lists_of_unequal_length_are_refused() {
    for (name, chart) in charts() {
        let kinds = chart.panels[0].layers.clone();
        for layer in kinds
            .iter()
            .filter(|layer| !matches!(layer, Layer::Points(_)))
        {
            let mut many = chart.clone();
            many.panels[0].layers.extend(vec![layer.clone(); 9]);
            assert!(
                matches!(many.draw(), Err(PlotError::TooMany { .. })),
                "{name} {layer:?}"
            );
        }
    }
    let mut five = panels();
    five.panels = vec![five.panels[0].clone(); 5];
    assert!(matches!(
        five.draw(),
        Err(PlotError::TooMany {
            count: 5,
            most: 4,
            ..
        })
    ));
    let mut stations = stations();
    stations.temperature_limits[0].station = 9;
    assert!(matches!(stations.draw(), Err(PlotError::Uneven { .. })));
    stations.temperature_limits.clear();
    stations.runs[0].pressures.pop();
    assert!(matches!(stations.draw(), Err(PlotError::Uneven { .. })));
}

/// Puts words in place of all that a layer says.
fn say(layer: &mut Layer, words: &str) {
    match layer {
        Layer::Line(line) => words.clone_into(&mut line.name),
        Layer::Area(area) => words.clone_into(&mut area.name),
        Layer::Points(all) => all
            .points
            .iter_mut()
            .for_each(|one| words.clone_into(&mut one.words)),
        Layer::Limit(mark) | Layer::Event(mark) => words.clone_into(&mut mark.words),
        Layer::Contours(all) => all
            .iter_mut()
            .for_each(|one| words.clone_into(&mut one.label)),
        Layer::Covered(_) => {}
    }
}

/// An axis under another name.
fn named<'a>(of: Axis<'a>, words: &'a str) -> Axis<'a> {
    Axis { words, ..of }
}

#[test]
fn hostile_and_endless_words_stay_words_and_keep_their_room() {
    for (number, wild) in wild_words().iter().enumerate() {
        for (name, mut chart) in charts() {
            (chart.title, chart.subtitle, chart.note) = (wild, wild, wild);
            chart.x = named(chart.x, wild);
            for panel in &mut chart.panels {
                panel.y = Axis {
                    words: wild,
                    ..panel.y
                };
                panel.layers.iter_mut().for_each(|layer| say(layer, wild));
            }
            chart
                .legend
                .iter_mut()
                .for_each(|entry| wild.clone_into(&mut entry.words));
            hold(&format!("{name}-wild-{number}"), chart.draw());
        }
        let mut map = map();
        (map.title, map.subtitle, map.note, map.speed_words) = (wild, wild, wild, wild);
        (map.flow, map.ratio) = (named(map.flow, wild), named(map.ratio, wild));
        map.speed_lines
            .iter_mut()
            .for_each(|line| wild.clone_into(&mut line.label));
        map.islands
            .iter_mut()
            .for_each(|island| wild.clone_into(&mut island.label));
        map.operating_lines
            .iter_mut()
            .for_each(|line| wild.clone_into(&mut line.name));
        hold(&format!("map-wild-{number}"), map.draw());
        let mut stations = stations();
        (stations.title, stations.subtitle, stations.note) = (wild, wild, wild);
        stations.pressure = named(stations.pressure, wild);
        stations.temperature = named(stations.temperature, wild);
        stations
            .stations
            .iter_mut()
            .for_each(|name| wild.clone_into(name));
        stations
            .runs
            .iter_mut()
            .for_each(|run| wild.clone_into(&mut run.name));
        let limits = stations.pressure_limits.iter_mut();
        limits
            .chain(&mut stations.temperature_limits)
            .for_each(|one| wild.clone_into(&mut one.words));
        hold(&format!("stations-wild-{number}"), stations.draw());
    }
}

#[test]
fn six_lines_that_end_in_one_point_keep_their_names_apart() {
    let names: Vec<String> = (0..6).map(|i| format!("compressor number {i}")).collect();
    let lines = names.iter().enumerate().map(|(i, name)| {
        let rows = [(1200.0, 1.9e5 - 2e4 * i as f64), (3200.0, 1.9e5)];
        line(name, Meaning::Compared(1), &rows, &[])
    });
    let drawing = hold("six", over_speed("", vec![panel(lines.collect())]).draw());
    let named = words(&drawing)
        .into_iter()
        .filter(|word| word.starts_with("compressor"));
    assert_eq!(named.count(), 6);
}

#[test]
fn random_data_keeps_every_word_apart_and_inside() {
    use proptest::prelude::*;
    let value = prop_oneof![-1e3..1e3_f64, -1e9..1e9_f64, Just(0.0), -1e-9..1e-9_f64];
    let rows = prop::collection::vec((value.clone(), value.clone()), 0..20);
    let lines = prop::collection::vec(rows, 0..4);
    let marks = prop::collection::vec((value.clone(), "\\PC{0,30}"), 0..5);
    proptest!(ProptestConfig::with_cases(200), |(lines in lines, marks in marks, title in "\\PC{0,120}")| {
        let mut all: Vec<Layer> = lines.iter().map(|rows| line(&title, Meaning::Turbo, rows, &[])).collect();
        for (at, words) in &marks {
            all.push(Layer::Event(mark(*at, words)));
            all.push(Layer::Limit(mark(*at, words)));
        }
        all.extend(lines.first().map(|rows| {
            let edge: Vec<[f64; 2]> = rows.iter().map(|row| [row.0, row.1]).collect();
            Layer::Area(Area {
                name: title.clone(),
                meaning: Meaning::Spread,
                naming: Naming::Beside,
                pieces: vec![[edge.clone(), edge]],
            })
        }));
        let mut chart = over_speed("", vec![panel(all)]);
        chart.title = &title;
        let faults = svg_check::faults(&chart.draw().unwrap());
        prop_assert!(faults.is_empty(), "{:?}", faults);

        let mut map = map();
        map.title = &title;
        map.operating_lines = lines
            .iter()
            .map(|rows| airpath::plot::OperatingLine {
                points: rows
                    .iter()
                    .map(|row| airpath::plot::OperatingPoint {
                        rpm: row.0,
                        at: [row.1, row.0],
                        inside: row.1 > 0.0,
                    })
                    .collect(),
                ..operating_line(&title, Meaning::Together, 1.0, 1.0)
            })
            .collect();
        let faults = svg_check::faults(&map.draw().unwrap());
        prop_assert!(faults.is_empty(), "{:?}", faults);
    });
}

#[test]
fn a_line_that_jumps_is_interrupted_and_joined_by_a_dashed_connector() {
    // A fold: between 2,300 and 2,301 rpm everything rises at once.
    let fold = (2300.0, 2301.0);
    let rows = [
        (2100.0, 90e3),
        (fold.0, 95e3),
        (fold.1, 150e3),
        (2500.0, 165e3),
    ];
    let rows = rows.map(|(rpm, boost)| (rpm, drawings_data::SITE + boost));
    let lower = rows.map(|(rpm, boost)| (rpm, boost - 10e3));
    let both = |jumps: &[(f64, f64)]| {
        over_speed(
            "",
            vec![panel(vec![
                line("the build", Meaning::Together, &rows, jumps),
                line("at 2,900 m", Meaning::Compared(1), &lower, jumps),
            ])],
        )
        .draw()
    };
    let (plain, jumped) = (hold("no-jump", both(&[])), hold("jump", both(&[fold])));
    // Two lines that jump at one place share the word.
    assert_says(&jumped, &["jump"]);
    assert!(!words(&plain).contains(&"jump"));
    for colour in [TOGETHER, COMPARED[0]] {
        assert!(connector_dashes(&jumped, colour) > 3, "{colour}");
        assert_eq!(connector_dashes(&plain, colour), 0);
    }
    let mut map = map();
    let speeds: Vec<f64> = map.operating_lines[0]
        .points
        .iter()
        .map(|point| point.rpm)
        .collect();
    map.operating_lines[0].jumps = vec![(speeds[3], speeds[4])];
    let jumped = hold("map-jump", map.draw());
    assert_says(&jumped, &["jump"]);
    assert!(connector_dashes(&jumped, TOGETHER) > 3);
}

#[test]
fn an_operating_line_is_not_drawn_across_a_speed_without_a_point() {
    let strokes = |drawing: &Drawing| {
        count(drawing, |line| {
            line.contains(TOGETHER) && line.contains("stroke-width=\"36\"")
        })
    };
    let mut map = map();
    let before = strokes(&hold("map-no-gap", map.draw()));
    let points = &map.operating_lines[0].points;
    let gap = f64::midpoint(points[3].rpm, points[4].rpm);
    map.operating_lines[0].gaps = vec![gap];
    assert_eq!(strokes(&hold("map-gap", map.draw())), before + 1);
}

#[test]
fn the_checks_find_every_fault_that_is_planted() {
    let sound = depth().draw().unwrap();
    assert!(svg_check::faults(&sound).is_empty());
    let planted = |change: &dyn Fn(&mut Drawing)| {
        let mut drawing = sound.clone();
        change(&mut drawing);
        svg_check::faults(&drawing).join("\n")
    };
    let text = |x: &str, words: &str| {
        format!(
            "<text x=\"{x}\" y=\"1000\" dy=\"0.5ex\" font-size=\"200\" text-anchor=\"start\">{words}</text></svg>"
        )
    };
    let with = |tag: String| {
        move |drawing: &mut Drawing| drawing.svg = drawing.svg.replace("</svg>", &tag)
    };
    assert!(planted(&with(String::new())).contains("not well-formed"));
    assert!(planted(&with(text("5900", "wide"))).contains("leaves the frame"));
    let twice = text("200", "one").replace("</svg>", &text("210", "two"));
    assert!(planted(&with(twice)).contains("\"one\" overlaps \"two\""));
    let crossed = "<polyline stroke-width=\"30\" stroke=\"#000000\" points=\"100,900 900,1100\"/>";
    let crossed = format!("{crossed}{}", text("200", "under a line"));
    assert!(planted(&with(crossed)).contains("a line crosses \"under a line\""));
    let circle = |x: &str| format!("<circle cx=\"{x}\" cy=\"1\" r=\"1\"/></svg>");
    assert!(planted(&with(circle("NaN"))).contains("NaN is no number"));
    assert!(planted(&with(circle("-5"))).contains("off the sheet"));
    assert!(planted(&|drawing| drawing.axes[0].span.1 = 10.0).contains("axis"));
    assert!(planted(&|drawing| drop(drawing.labels.pop())).contains("boxes kept"));
}
