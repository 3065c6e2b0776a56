//! Text of a map file into remark lines, a heading and rows of cells, each with its line.

use crate::input::fault::{Note, Place};

/// More rows than this are a log, not a map.
const MOST_ROWS: usize = 20_000;

/// One line of cells.
pub(super) struct Row<'t> {
    /// Line in the file, from 1.
    pub(super) line: usize,
    /// Its cells, trimmed and without quotes.
    pub(super) cells: Vec<&'t str>,
}

/// A map file cut into its pieces.
pub(super) struct Sheet<'t> {
    /// `# key = value` lines: line, key, value.
    pub(super) settings: Vec<(usize, &'t str, &'t str)>,
    /// The heading.
    pub(super) heading: Row<'t>,
    /// The rows below it.
    pub(super) rows: Vec<Row<'t>>,
    /// Whether numbers are written with a decimal comma.
    pub(super) decimal_comma: bool,
}

/// Cuts the text up, or says what it is instead of a map.
pub(super) fn cut<'t>(file: &str, text: &'t str) -> Result<Sheet<'t>, Note> {
    let note = |line, text: String| Note::new(Place::Line(file.into(), line), "", text);
    let mut settings = Vec::new();
    let mut lines = Vec::new();
    for (number, line) in lines_of(text).enumerate() {
        let line = line.trim();
        // A spreadsheet fills a remark line up with separators and may put it in quotes.
        let remark = line.trim_start_matches('"').strip_prefix('#');
        if let Some(remark) = remark {
            let remark = remark.trim_end_matches([',', ';', '\t', '"', ' ']);
            if let Some((key, value)) = remark.split_once('=') {
                settings.push((number + 1, key.trim(), value.trim()));
            }
        } else if !line.trim_matches([',', ';', '\t', ' ']).is_empty() {
            lines.push((number + 1, line));
        }
    }
    let Some((&(heading_line, heading), data)) = lines.split_first() else {
        let text = "holds no map: expected a heading and rows, e.g. corrected_speed [rpm], corrected_flow \
                    [kg/s], pressure_ratio [-], efficiency [-]";
        return Err(note(1, text.to_owned()));
    };
    if data.len() > MOST_ROWS {
        let text = format!(
            "{} rows; the limit is {MOST_ROWS}: 10 to 30 points per speed line are enough",
            data.len()
        );
        return Err(note(data[MOST_ROWS].0, text));
    }
    let separator = separator_of(heading);
    let split = |&(line, text): &(usize, &'t str)| Row {
        line,
        cells: cells(text, separator),
    };
    let decimal_comma = separator != ',' && data.iter().any(|(_, text)| text.contains(','));
    Ok(Sheet {
        settings,
        heading: Row {
            line: heading_line,
            cells: cells(heading, separator),
        },
        rows: data.iter().map(split).collect(),
        decimal_comma,
    })
}

/// Lines by any line ending: LF, CRLF, or CR alone.
fn lines_of(text: &str) -> impl Iterator<Item = &str> {
    text.split('\n').flat_map(|line| {
        let line = line.strip_suffix('\r').unwrap_or(line);
        line.split('\r')
    })
}

fn separator_of(heading: &str) -> char {
    ['\t', ';']
        .into_iter()
        .find(|separator| heading.contains(*separator))
        .unwrap_or(',')
}

fn cells(line: &str, separator: char) -> Vec<&str> {
    line.split(separator)
        .map(|cell| cell.trim().trim_matches('"').trim())
        .collect()
}
