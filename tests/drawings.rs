//! Every drawing with ordinary and hostile data, held to the structural checks.
//!
//! With `AIRPATH_PICTURES=folder` in the environment the drawings are also written there, to be
//! looked at.

// Helpers of tests fail like tests.
#![allow(clippy::unwrap_used, clippy::panic)]

mod demo_map;
mod drawings_data;
mod svg_check;

use airpath::plot::{
    Axis, Drawing, Event, Limit, LinesBeside, PanelLines, Panels, PlotError, Series, Trade,
    TradePoint,
};
use drawings_data::{curves, journey, layout, map, split, stack, wild_words};
use svg_check::assert_holds;

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

fn words(drawing: &Drawing) -> Vec<&str> {
    drawing
        .labels
        .iter()
        .map(|label| label.words.as_str())
        .collect()
}

#[test]
fn the_invented_map_with_one_operating_line() {
    let drawing = hold("map", map().draw());
    let words = words(&drawing);
    for wanted in [
        "surge",
        "choke",
        "1,200",
        "3,200",
        "beyond the data",
        "efficiency",
    ] {
        assert!(words.contains(&wanted), "{wanted} is missing: {words:?}");
    }
    for speed in demo_map::SPEEDS {
        let label = format!("{}k", speed / 1000.0);
        assert!(
            words.iter().any(|one| **one == label),
            "{label} is missing: {words:?}"
        );
    }
}

#[test]
fn several_operating_lines_with_points_beyond_the_data() {
    let mut map = map();
    map.title = "At 2,900 m the compressor runs past its highest speed line from 2,400 rpm";
    map.operating_lines.push(drawings_data::high_line());
    let drawing = hold("map-two-lines", map.draw());
    assert!(words(&drawing).contains(&"point beyond the data"));
}

/// The paths and circles of one colour in an SVG.
fn of_colour(svg: &str, colour: &str) -> usize {
    svg.lines().filter(|line| line.contains(colour)).count()
}

#[test]
fn four_lines_on_one_map_are_told_apart_and_their_words_have_room() {
    let mut map = map();
    map.operating_lines.push(drawings_data::high_line());
    for (name, factor) in [("slower pulley", 0.97), ("hot day", 0.93)] {
        let mut line = map.operating_lines[0].clone();
        line.name = name.to_owned();
        for point in &mut line.points {
            point.flow *= factor;
        }
        map.operating_lines.push(line);
    }
    let drawing = hold("map-four-lines", map.draw());
    let words = words(&drawing);
    for line in &map.operating_lines {
        let named = words.iter().filter(|one| **one == line.name).count();
        assert_eq!(named, 1, "{} in the key", line.name);
    }
    // Each of the four colours is drawn on the map and in the key.
    for colour in ["#BE4810", "#0E2850", "#8C46AA", "#60281C"] {
        assert!(of_colour(&drawing.svg, colour) > 4, "{colour}");
    }
    map.operating_lines.push(map.operating_lines[0].clone());
    assert!(matches!(
        map.draw().unwrap_err(),
        PlotError::TooMany { count: 5, .. }
    ));
}

#[test]
fn boost_of_lines_beside_each_other() {
    let rows = |shift: f64| {
        let rows = demo_map::ROWS.iter();
        rows.map(move |row| (row.rpm, Some(83_500.0 + 1000.0 * (row.boost - shift))))
    };
    let names = ["the build", "at 2,900 m", "slower pulley", "hot day"];
    let shifts = [0.0, 14.0, 6.0, 3.0];
    let drawing = hold(
        "beside",
        LinesBeside {
            title: "At 1,200 rpm boost runs from 70 (at 2,900 m) to 84 kPa (the build)",
            subtitle: "full load",
            note: "",
            speed: drawings_data::curves().x,
            value: drawings_data::curves().y,
            lines: names
                .iter()
                .zip(shifts)
                .map(|(name, shift)| Series::from_rows(name, rows(shift)))
                .collect(),
        }
        .draw(),
    );
    let words = words(&drawing);
    assert!(names.iter().all(|name| words.contains(name)), "{words:?}");
}

#[test]
fn a_map_of_speed_lines_alone() {
    let mut map = map();
    map.islands.clear();
    map.hull.clear();
    map.choke.clear();
    map.operating_lines.clear();
    hold("map-lines-alone", map.draw());
}

#[test]
fn pressure_and_temperature_along_the_stations() {
    let drawing = hold("journey", journey().draw());
    assert_eq!(
        words(&drawing)
            .iter()
            .filter(|word| **word == "manifold")
            .count(),
        1
    );
}

#[test]
fn air_and_exhaust_have_temperature_scales_of_their_own() {
    let drawing = hold("journey-scales", journey().draw());
    let named = |what: &str| {
        let axes = drawing.axes.iter().filter(|axis| axis.words.contains(what));
        axes.map(|axis| axis.span).collect::<Vec<_>>()
    };
    assert_eq!(named("pressure").len(), 1);
    let [air, exhaust] = named("temperature")[..] else {
        panic!("{:?}", drawing.axes);
    };
    assert!(air.1 <= 300.0 && exhaust.0 >= 200.0, "{air:?} {exhaust:?}");
    let words = words(&drawing);
    for limit in ["limit 275.0", "limit 200.0", "limit 60.0", "limit 750.0"] {
        assert!(words.contains(&limit), "{limit}: {words:?}");
    }
    // Without an engine between the stations one scale is enough.
    let mut open = journey();
    open.exhaust_from = None;
    let drawing = hold("journey-one-scale", open.draw());
    assert_eq!(drawing.axes.len(), 2);
}

#[test]
fn a_remark_above_the_standing_one_keeps_all_its_words() {
    let mut journey = journey();
    journey.note = "over: turbo compressor outlet temperature (compressor 2 outlet) 233.4 °C \
                    at 3,200 rpm, at most 200.0 °C\nEstimate for an invented build.";
    let drawing = hold("journey-remarks", journey.draw());
    let words = words(&drawing);
    let written = words.join(" ");
    assert!(
        written.contains("at 3,200 rpm, at most 200.0 °C"),
        "{written}"
    );
    assert_eq!(words.last(), Some(&"Estimate for an invented build."));
}

#[test]
fn the_split_over_engine_speed() {
    let drawing = hold("split", split().draw());
    assert!(words(&drawing).contains(&"supercharger") && words(&drawing).contains(&"turbo"));
}

#[test]
fn the_split_where_the_supercharger_restricts() {
    let mut split = split();
    split.title = "Without a bypass the supercharger throttles above 2,256 rpm";
    for (row, share) in [
        (6, -0.03),
        (7, -0.08),
        (8, -0.11),
        (9, -0.14),
        (10, -0.16),
        (11, -0.18),
    ] {
        split.stages[0].shares[row] = Some(share);
        split.stages[1].shares[row] = Some(1.0 - share);
    }
    let drawing = hold("split-restricts", split.draw());
    assert!(drawing.axes[1].span.0 <= -18.0 && drawing.axes[1].span.1 >= 118.0);
}

#[test]
fn boost_by_each_stage_alone_and_together() {
    let drawing = hold("layout", layout().draw());
    assert!(words(&drawing).contains(&"hand-over 2,256"));
}

#[test]
fn power_stacked_from_gross_indicated_down_to_brake() {
    let drawing = hold("stack", stack().draw());
    let words = words(&drawing);
    for wanted in ["brake", "friction", "pumping", "drive"] {
        assert!(words.contains(&wanted), "{wanted} in {words:?}");
    }
    // The stack starts at nothing and its axis reaches the whole.
    let (low, high) = drawing.axes[1].span;
    assert!(low.abs() < 1e-9 && high >= 192.0, "{low} {high}");
}

#[test]
fn a_stack_with_a_gap_one_row_and_none_is_drawn_and_a_wrong_one_refused() {
    let mut gap = stack();
    gap.layers[0].amounts[4] = None;
    hold("stack-gap", gap.draw());
    let mut one = stack();
    one.speeds.truncate(1);
    for layer in one.layers.iter_mut().chain([&mut one.whole]) {
        layer.amounts.truncate(1);
    }
    hold("stack-one", one.draw());
    let mut none = stack();
    none.whole.amounts.fill(None);
    assert!(words(&hold("stack-none", none.draw())).contains(&"no point to draw"));
    let mut braked = stack();
    braked.layers[0].amounts[2] = Some(-5e3);
    hold("stack-braked", braked.draw());
    let mut uneven = stack();
    uneven.layers[1].amounts.pop();
    assert!(matches!(uneven.draw(), Err(PlotError::Uneven { .. })));
    let mut infinite = stack();
    infinite.whole.amounts[0] = Some(f64::INFINITY);
    assert!(matches!(infinite.draw(), Err(PlotError::NotFinite { .. })));
    let mut many = stack();
    many.layers.push(many.layers[0].clone());
    assert!(matches!(many.draw(), Err(PlotError::TooMany { .. })));
}

#[test]
fn curves_with_limits_and_a_band() {
    hold("curves", curves().draw());
}

#[test]
fn lines_without_points_with_one_and_with_two() {
    for count in 0..3 {
        let mut map = map();
        map.operating_lines[0].points.truncate(count);
        hold(&format!("map-{count}-points"), map.draw());
        map.speed_lines
            .iter_mut()
            .for_each(|line| line.points.truncate(count));
        map.surge.truncate(count);
        map.choke.truncate(count);
        map.hull.truncate(count);
        map.islands
            .iter_mut()
            .for_each(|island| island.rings[0].truncate(count));
        hold(&format!("map-all-{count}-points"), map.draw());

        let mut curves = curves();
        curves.limits.clear();
        curves.bands.clear();
        curves.events.clear();
        curves
            .series
            .iter_mut()
            .for_each(|one| one.pieces[0].truncate(count));
        hold(&format!("curves-{count}-points"), curves.draw());

        let mut split = split();
        split.events.clear();
        split.speeds.truncate(count);
        split
            .stages
            .iter_mut()
            .for_each(|stage| stage.shares.truncate(count));
        hold(&format!("split-{count}-points"), split.draw());

        let mut journey = journey();
        journey.stations.truncate(count);
        for run in &mut journey.runs {
            run.pressures.truncate(count);
            run.temperatures.truncate(count);
        }
        journey.pressure_limits.clear();
        journey.temperature_limits.clear();
        hold(&format!("journey-{count}-stations"), journey.draw());
    }
}

#[test]
fn nothing_at_all_is_still_a_readable_drawing() {
    let mut curves = curves();
    (curves.title, curves.subtitle, curves.note) = ("", "", "");
    curves.series.clear();
    curves.limits.clear();
    curves.bands.clear();
    curves.events.clear();
    let drawing = hold("curves-nothing", curves.draw());
    assert!(words(&drawing).contains(&"no point to draw"));
}

#[test]
fn equal_values_get_axes_with_a_width() {
    let mut map = map();
    for point in &mut map.operating_lines[0].points {
        (point.flow, point.ratio) = (0.2, 2.0);
    }
    hold("map-equal-points", map.draw());
    map.speed_lines.clear();
    map.islands.clear();
    map.hull.clear();
    map.surge.clear();
    map.choke.clear();
    hold("map-one-place", map.draw());

    let mut curves = curves();
    curves
        .series
        .iter_mut()
        .flat_map(|one| one.pieces[0].iter_mut())
        .for_each(|p| *p = [2000.0, 1e5]);
    curves.limits.clear();
    curves.bands.clear();
    curves.events.clear();
    hold("curves-equal", curves.draw());
}

#[test]
fn a_point_far_outside_the_map_widens_the_axes() {
    let mut map = map();
    let last = map.operating_lines[0].points.last_mut().unwrap();
    (last.flow, last.ratio, last.inside) = (0.9, 6.0, false);
    let drawing = hold("map-far-point", map.draw());
    assert!(drawing.axes[0].span.1 >= 0.9 && drawing.axes[1].span.1 >= 6.0);
}

#[test]
fn a_line_of_a_million_points_is_thinned() {
    let started = std::time::Instant::now();
    let mut curves = curves();
    curves.series[0].pieces[0] = (0..1_000_000_u32)
        .map(|i| {
            [
                1200.0 + 2e-3 * f64::from(i),
                1e5 * (1.0 + f64::from(i % 1000) / 1e3),
            ]
        })
        .collect();
    let drawing = hold("curves-million", curves.draw());
    assert!(drawing.svg.len() < 1_000_000, "{} bytes", drawing.svg.len());

    let mut map = map();
    let points = &mut map.operating_lines[0].points;
    *points = (0..1_000_000_u32)
        .map(|i| airpath::plot::OperatingPoint {
            rpm: 1200.0 + 2e-3 * f64::from(i),
            flow: 0.06 + 2.9e-7 * f64::from(i),
            ratio: 1.2 + 2e-6 * f64::from(i),
            inside: true,
        })
        .collect();
    let drawing = hold("map-million", map.draw());
    assert!(drawing.svg.len() < 1_000_000, "{} bytes", drawing.svg.len());
    // Seconds would mean work that grows with the square of the points.
    assert!(started.elapsed().as_secs() < 20, "{:?}", started.elapsed());
}

#[test]
fn a_number_that_is_not_finite_is_an_error_that_names_its_place() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let mut layout = layout();
        layout.together[2].1 = Some(bad);
        let error = layout.draw().unwrap_err();
        assert_eq!(
            error,
            PlotError::NotFinite {
                what: "together".to_owned(),
                place: 3
            }
        );

        let mut map = map();
        map.operating_lines[0].points[4].ratio = bad;
        assert!(matches!(
            map.draw(),
            Err(PlotError::NotFinite { place: 5, .. })
        ));
        let mut map = drawings_data::map();
        map.operating_lines[0].points[4].rpm = bad;
        assert!(map.draw().is_err());
        let mut map = drawings_data::map();
        map.islands[0].level = bad;
        assert!(map.draw().is_err());

        let mut journey = journey();
        journey.runs[1].temperatures[3] = Some(bad);
        assert!(matches!(
            journey.draw(),
            Err(PlotError::NotFinite { place: 4, .. })
        ));

        let mut split = split();
        split.stages[1].shares[5] = Some(bad);
        assert!(matches!(
            split.draw(),
            Err(PlotError::NotFinite { place: 6, .. })
        ));
        let mut split = drawings_data::split();
        split.events.push(Event {
            at: bad,
            words: "x".to_owned(),
        });
        assert!(split.draw().is_err());
    }
    let mut layout = layout();
    layout.boost = Axis {
        words: "boost",
        shown: &|_| f64::NAN,
    };
    assert!(layout.draw().is_err());
    let mut layout = drawings_data::layout();
    layout.together[0].1 = Some(1e300);
    assert!(matches!(layout.draw(), Err(PlotError::TooLarge { .. })));
}

#[test]
fn lists_of_unequal_length_and_too_many_lines_are_refused() {
    let mut split = split();
    split.stages[0].shares.pop();
    assert!(matches!(
        split.draw(),
        Err(PlotError::Uneven {
            found: 11,
            expected: 12,
            ..
        })
    ));
    let mut journey = journey();
    journey.temperature_limits[0].station = 9;
    assert!(matches!(journey.draw(), Err(PlotError::Uneven { .. })));
    journey.temperature_limits.clear();
    journey.runs[0].pressures.pop();
    assert!(matches!(journey.draw(), Err(PlotError::Uneven { .. })));
    let mut curves = curves();
    curves.series = vec![curves.series[0].clone(); 7];
    assert!(matches!(
        curves.draw(),
        Err(PlotError::TooMany {
            count: 7,
            most: 6,
            ..
        })
    ));
    let mut map = map();
    map.operating_lines = vec![map.operating_lines[0].clone(); 5];
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
fn hostile_and_endless_words_stay_words_and_keep_their_room() {
    for (number, wild) in wild_words().iter().enumerate() {
        let axis = |shown| Axis { words: wild, shown };
        let mut map = map();
        (map.title, map.subtitle, map.note, map.speed_words) = (wild, wild, wild, wild);
        (map.flow, map.ratio) = (axis(map.flow.shown), axis(map.ratio.shown));
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

        let mut curves = curves();
        (curves.title, curves.subtitle, curves.note) = (wild, wild, wild);
        (curves.x, curves.y) = (axis(curves.x.shown), axis(curves.y.shown));
        curves
            .series
            .iter_mut()
            .for_each(|one| wild.clone_into(&mut one.name));
        curves
            .events
            .iter_mut()
            .for_each(|one| wild.clone_into(&mut one.words));
        curves
            .limits
            .iter_mut()
            .for_each(|one| wild.clone_into(&mut one.words));
        curves
            .bands
            .iter_mut()
            .for_each(|one| wild.clone_into(&mut one.words));
        hold(&format!("curves-wild-{number}"), curves.draw());

        let mut split = split();
        (split.title, split.subtitle, split.note) = (wild, wild, wild);
        (split.speed, split.share) = (axis(split.speed.shown), axis(split.share.shown));
        split
            .stages
            .iter_mut()
            .for_each(|stage| wild.clone_into(&mut stage.name));
        hold(&format!("split-wild-{number}"), split.draw());

        let mut journey = journey();
        (journey.title, journey.subtitle, journey.note) = (wild, wild, wild);
        (journey.pressure, journey.temperature) = (
            axis(journey.pressure.shown),
            axis(journey.temperature.shown),
        );
        journey
            .stations
            .iter_mut()
            .for_each(|name| wild.clone_into(name));
        journey
            .runs
            .iter_mut()
            .for_each(|run| wild.clone_into(&mut run.name));
        let limits = journey.pressure_limits.iter_mut();
        limits
            .chain(&mut journey.temperature_limits)
            .for_each(|limit| wild.clone_into(&mut limit.words));
        hold(&format!("journey-wild-{number}"), journey.draw());
    }
}

#[test]
fn six_lines_that_end_in_one_point_keep_their_names_apart() {
    let mut curves = curves();
    curves.bands.clear();
    curves.limits.clear();
    let line = |slope: f64| vec![[1200.0, 1.9e5 - slope], [3200.0, 1.9e5]];
    curves.series = (0..6_u32)
        .map(|i| airpath::plot::Series {
            name: format!("compressor number {i}"),
            pieces: vec![line(2e4 * f64::from(i))],
            ..Series::default()
        })
        .collect();
    let drawing = hold("curves-six", curves.draw());
    let named = words(&drawing)
        .into_iter()
        .filter(|word| word.starts_with("compressor"))
        .count();
    assert_eq!(named, 6);
}

#[test]
fn random_data_keeps_every_word_apart_and_inside() {
    use proptest::prelude::*;
    let value = prop_oneof![-1e3..1e3_f64, -1e9..1e9_f64, Just(0.0), -1e-9..1e-9_f64];
    let lines = prop::collection::vec(
        prop::collection::vec((value.clone(), value.clone()), 0..20),
        0..4,
    );
    let marks = prop::collection::vec((value.clone(), "\\PC{0,30}"), 0..5);
    proptest!(ProptestConfig::with_cases(200), |(lines in lines, marks in marks, title in "\\PC{0,120}")| {
        let mut curves = curves();
        curves.title = &title;
        curves.bands.clear();
        curves.limits.clear();
        curves.events = marks.iter().map(|(at, words)| Event { at: *at, words: words.clone() }).collect();
        curves.series = lines
            .iter()
            .map(|line| airpath::plot::Series {
                name: title.clone(),
                pieces: vec![line.iter().map(|point| [point.0, point.1]).collect()],
                ..Series::default()
            })
            .collect();
        let faults = svg_check::faults(&curves.draw().unwrap());
        prop_assert!(faults.is_empty(), "{:?}", faults);

        let mut map = map();
        map.title = &title;
        map.operating_lines = lines
            .iter()
            .map(|line| airpath::plot::OperatingLine {
                name: title.clone(),
                points: line
                    .iter()
                    .map(|point| airpath::plot::OperatingPoint {
                        rpm: point.0, flow: point.1, ratio: point.0, inside: point.1 > 0.0,
                    })
                    .collect(),
                ..airpath::plot::OperatingLine::default()
            })
            .collect();
        let faults = svg_check::faults(&map.draw().unwrap());
        prop_assert!(faults.is_empty(), "{:?}", faults);
    });
}

/// The invented build's rows with a fold put in: between 2,300 and 2,301 rpm everything rises at once.
const FOLD: (f64, f64) = (2300.0, 2301.0);

/// Short dashes of a jump's connector in one colour: the drawn width is its own.
fn connector_dashes(svg: &str, colour: &str) -> usize {
    let width = format!("stroke-width=\"{}\"", 18);
    svg.lines()
        .filter(|line| line.contains(colour) && line.contains(&width) && line.contains("polyline"))
        .count()
}

#[test]
fn a_line_that_jumps_is_interrupted_and_joined_by_a_dashed_connector() {
    let rows = [
        (2100.0, 90.0),
        (FOLD.0, 95.0),
        (FOLD.1, 150.0),
        (2500.0, 165.0),
    ]
    .map(|(rpm, kpa)| (rpm, Some(83_500.0 + 1000.0 * kpa)));
    let mut with = layout();
    with.together = rows.to_vec();
    let plain = hold("boost-no-jump", with.draw());
    with.jumps = vec![FOLD];
    let jumped = hold("boost-jump", with.draw());
    assert!(words(&jumped).contains(&"jump") && !words(&plain).contains(&"jump"));
    // The first series' colour.
    assert!(connector_dashes(&jumped.svg, "#0E2850") > 3);
    assert_eq!(connector_dashes(&plain.svg, "#0E2850"), 0);

    let mut map = map();
    let speeds: Vec<f64> = map.operating_lines[0]
        .points
        .iter()
        .map(|point| point.rpm)
        .collect();
    map.operating_lines[0].jumps = vec![(speeds[3], speeds[4])];
    let jumped = hold("map-jump", map.draw());
    assert!(words(&jumped).contains(&"jump"));
    assert!(connector_dashes(&jumped.svg, "#BE4810") > 3);

    let beside = |jumps: &[(f64, f64)]| {
        let one = |name: &str, shift: f64, jumps: &[(f64, f64)]| {
            let rows = rows.map(|(rpm, value)| (rpm, value.map(|value| value - shift)));
            Series::with_jumps(name, rows, jumps)
        };
        LinesBeside {
            title: "At 2,301 rpm boost runs from 140 (at 2,900 m) to 150 kPa (the build)",
            subtitle: "full load",
            note: "",
            speed: drawings_data::curves().x,
            value: drawings_data::curves().y,
            lines: vec![one("the build", 0.0, jumps), one("at 2,900 m", 10e3, jumps)],
        }
        .draw()
    };
    let jumped = hold("beside-jump", beside(&[FOLD]));
    // Two lines that jump at one place share the word.
    assert_eq!(
        words(&jumped).iter().filter(|one| **one == "jump").count(),
        1
    );
    for colour in ["#BE4810", "#0E2850"] {
        assert!(connector_dashes(&jumped.svg, colour) > 3, "{colour}");
    }
}

#[test]
fn areas_end_at_a_jump_and_a_mark_says_so() {
    let areas = |svg: &str| svg.lines().filter(|line| line.contains("<polygon")).count();
    let mut split = split();
    let jump = (split.speeds[3], split.speeds[4]);
    let before = hold("split-no-jump", split.draw());
    split.jumps = vec![jump];
    let after = hold("split-jump", split.draw());
    assert!(words(&after).iter().any(|one| one.starts_with("jump ")));
    assert!(areas(&after.svg) > areas(&before.svg));

    let mut stack = stack();
    let before = hold("power-no-jump", stack.draw());
    stack.jumps = vec![jump];
    let after = hold("power-jump", stack.draw());
    assert!(words(&after).iter().any(|one| one.starts_with("jump ")));
    assert!(areas(&after.svg) > areas(&before.svg));
}

#[test]
fn an_operating_line_is_not_drawn_across_a_speed_without_a_point() {
    let strokes = |svg: &str| {
        let own = |line: &&str| line.contains("#BE4810") && line.contains("stroke-width=\"32\"");
        svg.lines().filter(own).count()
    };
    let mut map = map();
    let before = strokes(&hold("map-no-gap", map.draw()).svg);
    let speeds: Vec<f64> = map.operating_lines[0]
        .points
        .iter()
        .map(|point| point.rpm)
        .collect();
    map.operating_lines[0].gaps = vec![f64::midpoint(speeds[3], speeds[4])];
    assert_eq!(strokes(&hold("map-gap", map.draw()).svg), before + 1);
}

#[test]
fn the_checks_find_every_fault_that_is_planted() {
    let sound = layout().draw().unwrap();
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
    assert!(
        planted(&with(
            "<circle cx=\"NaN\" cy=\"1\" r=\"1\"/></svg>".to_owned()
        ))
        .contains("NaN is no number")
    );
    assert!(
        planted(&with(
            "<circle cx=\"-5\" cy=\"1\" r=\"1\"/></svg>".to_owned()
        ))
        .contains("off the sheet")
    );
    assert!(planted(&|drawing| drawing.axes[0].span.1 = 3000.0).contains("axis"));
    assert!(planted(&|drawing| drop(drawing.labels.pop())).contains("boxes kept"));
}

/// Two panels over one axis, with a limit in each and a mark through both.
fn panels() -> Panels<'static> {
    let line = |from: f64, to: f64| {
        let rows = (0..=20).map(|i| {
            let share = f64::from(i) / 20.0;
            (
                1200.0 + 2000.0 * share,
                Some(from + (to - from) * share * share),
            )
        });
        rows.collect::<Vec<_>>()
    };
    Panels {
        title: "The cooler is short by 6.5 %: the charge reaches 68.4 °C at 3,200 rpm",
        subtitle: "the cooler over the line at full load",
        note: "Estimate for an invented build.",
        x: Axis {
            words: "engine speed, rpm",
            shown: &|v| v,
        },
        panels: vec![
            PanelLines {
                y: Axis {
                    words: "effectiveness, %",
                    shown: &|v| 100.0 * v,
                },
                series: vec![Series::from_rows("this cooler", line(0.80, 0.71))],
                limits: vec![Limit {
                    at: 0.79,
                    words: "needed 79.0 %".to_owned(),
                }],
            },
            PanelLines {
                y: Axis {
                    words: "temperature, °C",
                    shown: &|v| v - 273.15,
                },
                series: vec![
                    Series::from_rows("behind the cooler", line(320.0, 345.0)),
                    Series::from_rows("cooling air in", line(297.0, 297.0)),
                ],
                limits: vec![Limit {
                    at: 333.15,
                    words: "target 60.0 °C".to_owned(),
                }],
            },
        ],
        events: vec![Event {
            at: 3200.0,
            words: "most heat, 3,200 rpm".to_owned(),
        }],
    }
}

#[test]
fn panels_share_one_level_axis_that_is_named_once() {
    let drawing = hold("panels", panels().draw());
    let words = words(&drawing);
    assert_eq!(
        words
            .iter()
            .filter(|word| **word == "engine speed, rpm")
            .count(),
        1
    );
    assert_eq!(
        words
            .iter()
            .filter(|word| word.starts_with("most heat"))
            .count(),
        1
    );
    for wanted in ["needed 79.0 %", "target 60.0 °C", "this cooler"] {
        assert!(words.contains(&wanted), "{wanted} is missing: {words:?}");
    }
    for many in 3..=4 {
        let mut more = panels();
        while more.panels.len() < many {
            more.panels.push(more.panels[0].clone());
        }
        hold(&format!("panels-{many}"), more.draw());
    }
    let mut five = panels();
    five.panels = vec![five.panels[0].clone(); 5];
    assert!(matches!(five.draw(), Err(PlotError::TooMany { .. })));
}

/// A gain that grows, turns, and falls along its cost.
fn trade() -> Trade<'static> {
    let at = |depth: f64| {
        [
            6e3 * depth,
            1.0 + 0.5 * (1.0 - (-1.4 * depth).exp()) - 0.02 * depth,
        ]
    };
    let named = |depth: f64, words: &str, stands_out| TradePoint {
        at: at(depth),
        words: words.to_owned(),
        stands_out,
    };
    Trade {
        title: "More depth pays up to 1.98 times the build's",
        subtitle: "core depths from 0.5 to 2.5 times the build's, at 3,200 rpm",
        note: "Assumed: the core's shape is not known.",
        cost: Axis {
            words: "pressure drop of the charge, kPa",
            shown: &|v| v / 1000.0,
        },
        gain: Axis {
            words: "density behind over density ahead",
            shown: &|v| v,
        },
        line: (10..=50).map(|i| at(f64::from(i) / 20.0)).collect(),
        points: vec![
            named(1.0, "this build, 1.0×", true),
            named(1.98, "stops paying, 1.98×", true),
            named(0.5, "0.5×", false),
            named(1.5, "1.5×", false),
            named(2.5, "2.5×", false),
        ],
    }
}

#[test]
fn a_gain_against_its_cost_names_the_choices() {
    let drawing = hold("trade", trade().draw());
    let words = words(&drawing);
    for wanted in ["this build, 1.0×", "stops paying, 1.98×", "0.5×", "2.5×"] {
        assert!(words.contains(&wanted), "{wanted} is missing: {words:?}");
    }
}

#[test]
fn panels_and_trades_with_little_or_hostile_data_hold() {
    for wild in wild_words() {
        let mut sheet = panels();
        sheet.title = &wild;
        sheet.note = &wild;
        sheet.events[0].words.clone_from(&wild);
        sheet.panels[0].series[0].name.clone_from(&wild);
        hold("panels-wild", sheet.draw());
        let mut one = trade();
        one.subtitle = &wild;
        one.points[0].words.clone_from(&wild);
        hold("trade-wild", one.draw());
    }
    let mut empty = panels();
    empty
        .panels
        .iter_mut()
        .for_each(|panel| panel.series.clear());
    hold("panels-empty", empty.draw());
    let mut none = trade();
    none.line.clear();
    none.points.clear();
    hold("trade-empty", none.draw());
    let mut broken = trade();
    broken.points[0].at[1] = f64::NAN;
    assert!(matches!(broken.draw(), Err(PlotError::NotFinite { .. })));
}
