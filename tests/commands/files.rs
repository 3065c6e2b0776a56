//! Where files are looked for, and where results land.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use roxmltree::Document;

use super::{Scratch, kept, names, one_point};

/// The drawings of a build of one point with a map.
const DRAWINGS: [&str; 3] = ["compressor_map.svg", "split.svg", "stations.svg"];

#[test]
fn drawings_land_in_out_which_is_made_and_are_listed() {
    let scratch = Scratch::new();
    let ran = scratch.run(&["line", &one_point()]);
    assert_eq!(ran.code, 0);
    let folder = scratch.as_ref().join("out");
    assert_eq!(names(&folder), ["split.svg", "stations.svg"]);
    for name in names(&folder) {
        assert!(ran.err.contains(&format!("wrote out/{name}\n")));
    }
    assert_eq!(names(&scratch), ["out"]);
}

#[test]
fn a_named_folder_is_made_with_those_above_it() {
    let scratch = Scratch::new();
    let ran = scratch.run(&["line", &one_point(), "--out", "a/b c"]);
    assert_eq!(ran.code, 0);
    assert_eq!(names(scratch.as_ref().join("a/b c")).len(), 2);
    assert_eq!(names(&scratch), ["a"]);
}

#[test]
fn json_and_csv_write_nothing_unless_a_folder_is_named() {
    for format in ["json", "csv"] {
        let scratch = Scratch::new();
        let plain = scratch.run(&["line", &one_point(), "--format", format]);
        assert_eq!((plain.code, names(&scratch).len()), (0, 0));
        assert!(!plain.err.contains("wrote"));
        let named = scratch.run(&["line", &one_point(), "--format", format, "--out", "x"]);
        assert_eq!(named.out, plain.out);
        assert_eq!(names(scratch.as_ref().join("x")).len(), 2);
    }
}

#[test]
fn check_and_point_write_no_file() {
    let scratch = Scratch::new();
    for arguments in [&["check"][..], &["point", "--rpm", "2000", "--out", "x"]] {
        assert_eq!(scratch.run(arguments).code, 0);
    }
    assert!(names(&scratch).is_empty());
}

#[test]
fn own_names_are_overwritten_and_nothing_else_is_touched() {
    let scratch = Scratch::new();
    let out = scratch.as_ref().join("out");
    fs::create_dir(&out).unwrap();
    for name in ["notes.txt", "stations.svg.bak", "stations.svg"] {
        fs::write(out.join(name), "mine").unwrap();
    }
    assert_eq!(scratch.run(&["line", &one_point()]).code, 0);
    let left = names(&out);
    let expected = ["notes.txt", "split.svg", "stations.svg", "stations.svg.bak"];
    assert_eq!(left, expected, "and no temporary file");
    for name in ["notes.txt", "stations.svg.bak"] {
        assert_eq!(fs::read_to_string(out.join(name)).unwrap(), "mine");
    }
    let drawing = fs::read_to_string(out.join("stations.svg")).unwrap();
    assert!(drawing.contains("<svg"));
}

#[test]
fn two_runs_write_the_same() {
    let scratch = Scratch::new();
    for folder in ["first", "second"] {
        assert_eq!(scratch.run(&["line", "--out", folder]).code, 0);
    }
    let read =
        |folder: &str, name: &str| fs::read(scratch.as_ref().join(folder).join(name)).unwrap();
    for name in names(scratch.as_ref().join("first")) {
        assert_eq!(read("first", &name), read("second", &name), "{name}");
    }
}

#[test]
fn an_impossible_folder_is_said_and_nothing_is_half_written() {
    let scratch = Scratch::new();
    fs::write(scratch.as_ref().join("taken"), "mine").unwrap();
    for folder in ["taken", "taken/inside"] {
        let ran = scratch.run(&["line", &one_point(), "--out", folder]);
        assert_eq!(ran.code, 1);
        assert!(
            ran.err
                .contains(&format!("{folder}: the folder cannot be created"))
        );
        assert!(!ran.err.contains("wrote"));
    }
    assert_eq!(names(&scratch), ["taken"]);
    let kept = fs::read_to_string(scratch.as_ref().join("taken")).unwrap();
    assert_eq!(kept, "mine");
}

#[test]
fn a_folder_in_the_place_of_a_file_stops_all_files() {
    let scratch = Scratch::new();
    let out = scratch.as_ref().join("out");
    fs::create_dir_all(out.join("split.svg")).unwrap();
    let ran = scratch.run(&["line", &one_point()]);
    assert_eq!(ran.code, 1);
    assert!(
        ran.err
            .contains("out/split.svg: cannot be written: a folder has that name")
    );
    assert_eq!(
        names(&out),
        ["split.svg"],
        "neither drawing nor temporary file"
    );
}

/// A copy of the build of one point that names a map beside it.
fn build_with_map(folder: &Path) {
    fs::create_dir_all(folder.join("maps")).unwrap();
    fs::copy(kept("cases/map_base.csv"), folder.join("maps/mine.csv")).unwrap();
    let text = fs::read_to_string(one_point()).unwrap();
    let text = text.replace(
        "pressure_ratio = 1.7\n",
        "pressure_ratio = 1.7\nmap = \"maps/mine.csv\"\n",
    );
    fs::write(folder.join("truck.toml"), text).unwrap();
}

#[test]
fn a_path_in_a_file_counts_from_that_files_folder() {
    let scratch = Scratch::new();
    build_with_map(&scratch.as_ref().join("deep/er"));
    let ran = scratch.run(&["line", "deep/er/truck.toml"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_eq!(names(scratch.as_ref().join("out")), DRAWINGS);
}

#[test]
fn a_path_on_the_command_line_counts_from_the_current_folder() {
    let scratch = Scratch::new();
    build_with_map(&scratch.as_ref().join("deep"));
    let run = |more: &[&str]| {
        scratch.run(&[&["line", "deep/truck.toml", "--format", "csv"], more].concat())
    };
    assert_eq!(run(&["--map", "deep/maps/mine.csv"]).code, 0);
    assert_eq!(
        run(&["--set", "turbo_compressor.map=deep/maps/mine.csv"]).code,
        0
    );
    let from_the_file = run(&["--set", "turbo_compressor.map=maps/mine.csv"]);
    assert_eq!(from_the_file.code, 1);
    assert!(from_the_file.err.contains("--set turbo_compressor.map: "));
    assert!(
        from_the_file
            .err
            .contains("maps/mine.csv: there is no such file")
    );
    let missing = run(&["--map", "maps/mine.csv"]);
    assert_eq!(missing.code, 1);
    assert!(
        missing
            .err
            .contains("\nmaps/mine.csv: there is no such file")
            || missing
                .err
                .starts_with("maps/mine.csv: there is no such file")
    );
    assert!(!missing.err.contains("--set"), "{}", missing.err);
}

#[test]
fn a_map_needs_a_turbo_compressor_to_stand_for() {
    let (build, map) = (kept("builds/single_roots.toml"), kept("cases/map_base.csv"));
    let ran = Scratch::new().run(&["line", &build, "--map", &map]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("--map needs a turbo_compressor"));
}

#[test]
fn a_drawing_of_one_point_is_quick_well_formed_and_finite() {
    let scratch = Scratch::new();
    let map = kept("cases/map_base.csv");
    let start = Instant::now();
    let ran = scratch.run(&["line", &one_point(), "--map", &map, "--out", "d"]);
    assert_eq!(ran.code, 0);
    assert!(start.elapsed() < Duration::from_secs(5));
    let folder = scratch.as_ref().join("d");
    assert_eq!(names(&folder), DRAWINGS);
    for name in DRAWINGS {
        let svg = fs::read_to_string(folder.join(name)).unwrap();
        for word in ["NaN", "nan\"", "inf\"", "inf,", "inf "] {
            assert!(!svg.contains(word), "{word} in {name}");
        }
        assert_words_keep_apart(name, &svg);
    }
}

#[test]
fn every_drawing_of_a_line_is_well_formed_and_its_words_keep_apart() {
    for units in ["si", "us"] {
        let scratch = Scratch::new();
        assert_eq!(scratch.run(&["line", "--units", units]).code, 0);
        let out = scratch.as_ref().join("out");
        assert_eq!(names(&out).len(), 5);
        for name in names(&out) {
            let svg = fs::read_to_string(out.join(&name)).unwrap();
            assert_words_keep_apart(&format!("{name} {units}"), &svg);
        }
    }
}

/// All words of a drawing in the order in which they are written.
fn text_of(drawing: PathBuf) -> String {
    let svg = fs::read_to_string(drawing).unwrap();
    let document = Document::parse(&svg).unwrap();
    let words = document
        .descendants()
        .filter(|node| node.has_tag_name("text"));
    let words: Vec<&str> = words
        .filter_map(|node| node.text())
        .map(str::trim)
        .collect();
    words.join(" ")
}

#[test]
fn the_worst_finding_stands_at_the_foot_of_the_drawings_it_concerns() {
    let scratch = Scratch::new();
    assert_eq!(scratch.run(&["line"]).code, 0);
    assert_eq!(scratch.run(&["cooler"]).code, 0);
    let text = |name: &str| text_of(scratch.as_ref().join("out").join(name));
    let charge = "over: charge temperature 68.4 °C at 3,200 rpm, at most 60.0 °C";
    for name in ["stations.svg", "cooler.svg"] {
        let text = text(name);
        assert!(
            text.contains(charge) && !text.contains("Elsewhere"),
            "{text}"
        );
    }
    let boost = text("boost.svg");
    assert!(
        boost.contains("near: steepness, 3.7 % of manifold"),
        "{boost}"
    );
    // A limit that is passed elsewhere stands on the drawings that it does not concern.
    for name in ["boost.svg", "split.svg", "power.svg", "compressor_map.svg"] {
        let text = text(name);
        assert!(text.contains(&format!("Elsewhere, {charge}")), "{text}");
    }
}

#[test]
fn the_title_speaks_of_the_worst_that_concerns_the_drawing() {
    let scratch = Scratch::new();
    let titles = |arguments: &[&str]| {
        let ran = scratch.run(arguments);
        assert_eq!(ran.code, 0, "{}", ran.err);
        |name: &str| text_of(scratch.as_ref().join("out").join(name))
    };
    // The lowest speed is well within every limit: the worst is not the first.
    let text = titles(&["line"]);
    let stations = text("stations.svg");
    assert!(
        stations.starts_with("Charge temperature exceeds"),
        "{stations}"
    );
    assert!(
        text("boost.svg").starts_with("Boost is "),
        "{}",
        text("boost.svg")
    );
    let text = titles(&["line", "--set", "limits.max_manifold_pressure=230 kPa"]);
    let boost = text("boost.svg");
    assert!(
        boost.starts_with("Manifold pressure exceeds its limit at"),
        "{boost}"
    );
    // A limit of one stage is the title of its map alone.
    let text = titles(&["line", "--set", "turbo_compressor.max_speed=120000 rpm"]);
    let map = text("compressor_map.svg");
    assert!(
        map.starts_with("The compressor turns at 128,436 rpm"),
        "{map}"
    );
    assert!(
        text("boost.svg").starts_with("Boost is "),
        "{}",
        text("boost.svg")
    );
}

#[test]
fn between_the_ends_the_journey_shows_the_speed_of_the_worst_finding() {
    let scratch = Scratch::new();
    let limit = "limits.max_exhaust_temperature=670 degC";
    let arguments = [
        "line",
        "--set",
        limit,
        "--set",
        "limits.max_charge_temperature=",
    ];
    assert_eq!(scratch.run(&arguments).code, 0);
    let text = text_of(scratch.as_ref().join("out/stations.svg"));
    assert!(
        text.starts_with("Exhaust temperature exceeds its"),
        "{text}"
    );
    assert!(text.contains("1,200 rpm 2,000 rpm 3,200 rpm"), "{text}");
}

#[test]
fn a_supercharger_with_a_wheel_has_a_drawing_on_its_own_map() {
    let scratch = Scratch::new();
    let build = kept("cases/build_wheel_and_turbo.toml");
    let ran = scratch.run(&["line", &build]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let out = scratch.as_ref().join("out");
    let wheel = text_of(out.join("supercharger_map.svg"));
    assert!(
        wheel.starts_with("The supercharger stays between surge"),
        "{wheel}"
    );
    // Its own speed lines, engine speeds and margins; the turbo's map has others.
    for words in ["110.2k", "1,400", "3,000", "smallest surge margin"] {
        assert!(wheel.contains(words), "{words}: {wheel}");
    }
    let turbo = text_of(out.join("compressor_map.svg"));
    assert!(turbo.starts_with("The turbo compressor "), "{turbo}");
    assert!(
        turbo.contains("100.5k") && !turbo.contains("110.2k"),
        "{turbo}"
    );
    for name in names(&out) {
        let svg = fs::read_to_string(out.join(&name)).unwrap();
        assert_words_keep_apart(&name, &svg);
    }
    // A clutch that is out leaves no point there, and the line is not drawn across.
    let clutch = "supercharger.engaged=[[1000, 1], [2000, 0], [2400, 1]]";
    let ran = scratch.run(&["line", &build, "--set", clutch]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let wheel = text_of(out.join("supercharger_map.svg"));
    assert!(
        !wheel.contains("2,200") && wheel.contains("2,400"),
        "{wheel}"
    );
}

#[test]
fn where_all_is_well_no_finding_stands_on_a_drawing() {
    let scratch = Scratch::new();
    let without = [
        "--set",
        "limits.max_charge_temperature=",
        "--set",
        "engine.rpm.to=1800",
    ];
    let ran = scratch.run(&[&["line"], &without[..]].concat());
    assert_eq!(ran.code, 0, "{}", ran.err);
    for name in ["stations.svg", "boost.svg"] {
        let text = text_of(scratch.as_ref().join("out").join(name));
        assert!(
            !text.contains("near: ") && !text.contains("over: "),
            "{text}"
        );
    }
}

#[test]
fn the_limits_of_stations_stand_on_the_journey_in_both_systems() {
    for (units, wanted) in [
        ("si", ["limit 60.0 °C", "limit 275.0 kPa"]),
        ("us", ["limit 140.0 °F", "limit 39.89 psi"]),
    ] {
        let scratch = Scratch::new();
        assert_eq!(scratch.run(&["line", "--units", units]).code, 0);
        let text = text_of(scratch.as_ref().join("out/stations.svg"));
        for words in wanted {
            assert!(text.contains(words), "{words}: {text}");
        }
    }
}

#[test]
fn a_line_beside_has_one_look_in_every_drawing() {
    let scratch = Scratch::new();
    let map = format!("{}/maps/invented_66mm.csv", env!("CARGO_MANIFEST_DIR"));
    let other = format!("other map: turbo_compressor.map={map}");
    let ran = scratch.run(&[
        "line",
        "--beside",
        &other,
        "--beside",
        "pulley: supercharger.drive_ratio=2.6",
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let svg = |name: &str| fs::read_to_string(scratch.as_ref().join("out").join(name)).unwrap();
    // The second beside has the third look; the first has the second and is not on this map.
    let (map, lines) = (svg("compressor_map.svg"), svg("beside.svg"));
    let (second, third) = ("#8C46AA", "#CEA428");
    assert!(map.contains(third) && lines.contains(third));
    assert!(!map.contains(second) && lines.contains(second));
}

/// That a drawing is well-formed, its words inside the sheet and apart from each other.
fn assert_words_keep_apart(name: &str, svg: &str) {
    let document = Document::parse(svg).unwrap_or_else(|fault| panic!("{name}: {fault}"));
    let root = document.root_element();
    let sheet: Vec<f64> = root
        .attribute("viewBox")
        .unwrap()
        .split_whitespace()
        .map(|number| number.parse().unwrap())
        .collect();
    let mut boxes: Vec<(String, [f64; 4])> = Vec::new();
    for node in root.descendants().filter(|node| node.has_tag_name("text")) {
        let number = |key| node.attribute(key).unwrap().parse::<f64>().unwrap();
        let words = node.text().unwrap_or("").trim().to_owned();
        let (x, y, size) = (number("x"), number("y"), number("font-size"));
        let bold = node.attribute("font-weight") == Some("bold");
        let width = airpath::plot::text_width(&words, size, bold);
        let left = match node.attribute("text-anchor") {
            Some("start") => x,
            Some("middle") => x - width / 2.0,
            _ => x - width,
        };
        let room = [left, y - 0.46 * size, left + width, y + 0.5 * size];
        let inside = room[0] >= sheet[0] && room[1] >= sheet[1];
        assert!(
            inside && room[2] <= sheet[2] && room[3] <= sheet[3],
            "{name}: {words:?} leaves the sheet"
        );
        for (other, there) in &boxes {
            // A tenth of a unit either way is the fine raster's rounding.
            let apart = room[2] < there[0] + 1.0
                || there[2] < room[0] + 1.0
                || room[3] < there[1] + 1.0
                || there[3] < room[1] + 1.0;
            assert!(apart, "{name}: {words:?} lies on {other:?}");
        }
        boxes.push((words, room));
    }
    assert!(boxes.len() > 5, "{name} has {} words", boxes.len());
}

#[test]
fn hostile_characters_in_a_title_are_escaped() {
    let scratch = Scratch::new();
    let title = "title=<script>&\"'</text> \u{1F525} \u{7} ]]> 4.5 L";
    let map = kept("cases/map_base.csv");
    let ran = scratch.run(&["line", &one_point(), "--map", &map, "--set", title]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    for name in DRAWINGS {
        let svg = fs::read_to_string(scratch.as_ref().join("out").join(name)).unwrap();
        assert!(!svg.contains("<script>"), "{name}");
        assert_words_keep_apart(name, &svg);
    }
    let json = scratch.run(&["line", &one_point(), "--set", title, "--format", "json"]);
    let shown = json.json()["title"].as_str().unwrap().to_owned();
    assert!(
        title.ends_with(&shown) && shown.contains("<script>"),
        "{shown}"
    );
}

#[test]
fn two_speeds_and_speeds_of_one_answer_are_drawn() {
    let ranges = [
        "engine.rpm={ from = 2000, to = 2001, step = 1 }",
        "engine.rpm={ from = 500, to = 8000, step = 7500 }",
    ];
    for range in ranges {
        let scratch = Scratch::new();
        let map = kept("cases/map_base.csv");
        let ran = scratch.run(&["line", &one_point(), "--map", &map, "--set", range]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        for name in DRAWINGS {
            let svg = fs::read_to_string(scratch.as_ref().join("out").join(name)).unwrap();
            assert!(!svg.contains("NaN"), "{name}");
            assert_words_keep_apart(&format!("{name} with {range}"), &svg);
        }
    }
}

#[cfg(unix)]
#[test]
fn a_folder_that_must_not_be_written_is_said() {
    use std::os::unix::fs::PermissionsExt;
    let scratch = Scratch::new();
    let folder = scratch.as_ref().join("locked");
    fs::create_dir(&folder).unwrap();
    fs::set_permissions(&folder, fs::Permissions::from_mode(0o555)).unwrap();
    let is_bound = fs::write(folder.join("probe"), "").is_err();
    let ran = scratch.run(&["line", &one_point(), "--out", "locked"]);
    fs::set_permissions(&folder, fs::Permissions::from_mode(0o755)).unwrap();
    // The superuser writes into it all the same.
    if is_bound {
        assert_eq!(ran.code, 1);
        let words = "locked/stations.svg: cannot be written: no permission to write there";
        assert!(ran.err.contains(words));
        assert!(names(&folder).is_empty());
    } else {
        assert_eq!(ran.code, 0);
    }
}

#[test]
fn speeds_without_a_match_keep_their_room_and_are_said() {
    let scratch = Scratch::new();
    let ran = scratch.run(&[
        "line",
        "--set",
        "turbine.wastegate=",
        "--set",
        "turbine.effective_area=2 cm2",
        "--set",
        "limits=",
        "--set",
        "turbo_compressor.max_speed=",
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let text = |name: &str| text_of(scratch.as_ref().join("out").join(name));
    for name in ["power.svg", "split.svg", "boost.svg", "stations.svg"] {
        let text = text(name);
        assert!(
            text.contains("no match, the turbocharger runs away"),
            "{name}: {text}"
        );
        assert!(
            !text.starts_with("Boost is ") && !text.contains("hands over"),
            "{text}"
        );
    }
    for name in ["power.svg", "split.svg"] {
        assert!(
            text(name).contains("3,200") || text(name).contains("3,000"),
            "{}",
            text(name)
        );
    }
}
