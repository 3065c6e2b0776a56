//! Tables for reading: a heading with units, columns aligned to the right.

use comfy_table::{CellAlignment, ContentArrangement, Table, presets};

use super::fields::field::Field;
use super::wrap::WIDTH;
use crate::quantity::UnitSystem;

/// The user's own text on one line: it is not to look like a line of ours.
pub(super) fn one_line(text: &str) -> String {
    text.replace('\n', "\\n")
}

/// A table whose first column is text and whose others are numbers.
pub(super) struct Sheet {
    table: Table,
    columns: usize,
}

impl Sheet {
    /// Starts with its headings; a heading breaks at '\n'.
    pub fn new(headings: &[String]) -> Self {
        let mut table = Table::new();
        table.load_style(presets::NOTHING);
        table.set_content_arrangement(ContentArrangement::Disabled);
        table.set_header(headings.to_vec());
        Self {
            table,
            columns: headings.len(),
        }
    }

    /// Adds a row.
    pub fn row(&mut self, cells: Vec<String>) {
        self.table.add_row(cells);
    }

    /// The table as text, with a line under the heading and nothing at the ends of lines.
    pub fn text(self, text_columns: usize) -> String {
        self.text_between(text_columns, 0)
    }

    /// The same with columns of text at its end too.
    pub fn text_between(mut self, text_columns: usize, at_the_end: usize) -> String {
        for (i, column) in (0..self.columns).zip(self.table.column_iter_mut()) {
            let side = if i < text_columns || i + at_the_end >= self.columns {
                CellAlignment::Left
            } else {
                CellAlignment::Right
            };
            column.set_cell_alignment(side);
            column.set_padding((0, 2));
        }
        let mut out = String::new();
        for line in self.table.to_string().lines() {
            out.push_str(line.trim_end());
            out.push('\n');
        }
        out
    }
}

/// A table of rows of the field table, a line an item; the first columns are text. Empty without
/// items.
pub(super) fn table<T>(
    columns: &[&Field<T>],
    text_columns: usize,
    items: &[T],
    system: UnitSystem,
) -> String {
    if items.is_empty() {
        return String::new();
    }
    let heads: Vec<String> = columns.iter().map(|column| column.head(system)).collect();
    let row = |item: &T| {
        let cells = columns.iter().map(|column| column.cell(item, system));
        cells.collect()
    };
    let rows: Vec<Vec<String>> = items.iter().map(row).collect();
    within_screen(&heads, &rows, text_columns)
}

/// The width of a table in columns of a terminal.
pub(super) fn width(headings: &[String], rows: &[Vec<String>]) -> usize {
    let mut sheet = Sheet::new(headings);
    for row in rows {
        sheet.row(row.clone());
    }
    widest(&sheet.text(0))
}

fn widest(text: &str) -> usize {
    let widths = text.lines().map(|line| line.chars().count());
    widths.max().unwrap_or_default()
}

/// A table, or as many below each other as it takes to stay within [`WIDTH`]: each has the first
/// `keys` columns, which are text, and then as many of the others as fit.
pub(super) fn within_screen(headings: &[String], rows: &[Vec<String>], keys: usize) -> String {
    within(headings, rows, (keys, keys), WIDTH)
}

/// The same of a screen of so many columns; of the first `keys` columns `texts` are text.
pub(super) fn within(
    headings: &[String],
    rows: &[Vec<String>],
    (keys, texts): (usize, usize),
    screen: usize,
) -> String {
    let table = |columns: std::ops::Range<usize>| {
        let pick = |cells: &[String]| -> Vec<String> {
            let own = cells.iter().skip(columns.start).take(columns.len());
            cells[..keys].iter().chain(own).cloned().collect()
        };
        let mut sheet = Sheet::new(&pick(headings));
        for row in rows {
            sheet.row(pick(row));
        }
        sheet.text(texts)
    };
    let mut tables: Vec<String> = Vec::new();
    let mut from = keys;
    while from < headings.len() {
        let rest = (from + 1..=headings.len()).rev();
        let mut parts = rest.map(|to| (to, table(from..to)));
        // One column alone is shown however wide it is.
        let fitting = parts.find(|(to, text)| widest(text) <= screen || *to == from + 1);
        let Some((to, text)) = fitting else { break };
        tables.push(text);
        from = to;
    }
    tables.join("\n")
}

/// Most characters of a name in a table.
const NAME: usize = 40;

/// A name in lines that leave room for the figures beside it, broken between words, else anywhere.
pub(super) fn folded(name: &str) -> String {
    let mut lines: Vec<String> = vec![String::new()];
    let mut width = 0;
    for word in name.split(' ') {
        let letters = word.chars().count();
        if width > 0 && width + 1 + letters > NAME {
            lines.push(String::new());
            width = 0;
        } else if width > 0 {
            lines.last_mut().into_iter().for_each(|line| line.push(' '));
            width += 1;
        }
        for letter in word.chars() {
            if width == NAME {
                lines.push(String::new());
                width = 0;
            }
            lines
                .last_mut()
                .into_iter()
                .for_each(|line| line.push(letter));
            width += 1;
        }
    }
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(words: &[&str]) -> Vec<String> {
        words.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_table_wider_than_a_screen_is_parted_and_keeps_its_names() {
        let headings: Vec<String> = std::iter::once("map".to_owned())
            .chain((0..12).map(|i| format!("figure {i:02}")))
            .collect();
        let row = |name: &str| -> Vec<String> {
            std::iter::once(name.to_owned())
                .chain((0..12).map(|i| format!("12345.6{i}")))
                .collect()
        };
        let text = within_screen(&headings, &[row("a"), row("b")], 1);
        assert!(widest(&text) <= WIDTH, "{text}");
        assert_eq!(
            text.lines().filter(|line| line.starts_with("map")).count(),
            2
        );
        assert_eq!(
            text.lines().filter(|line| line.starts_with("b ")).count(),
            2
        );
        for figure in 0..12 {
            assert_eq!(text.matches(&format!("figure {figure:02}")).count(), 1);
        }
    }

    #[test]
    fn a_table_that_fits_stays_one() {
        let text = within_screen(&texts(&["map", "x"]), &[texts(&["a", "1"])], 1);
        assert_eq!(text, "map  x\na    1\n");
    }

    #[test]
    fn a_long_name_is_folded_between_words_or_within_a_long_one() {
        let words = folded("site.altitude=2900 m, site.temperature=14 degC, and a slower pulley");
        assert!(words.lines().all(|line| line.chars().count() <= NAME));
        assert_eq!(words.replace('\n', " ").split(' ').count(), 8);
        let path = "x".repeat(90);
        assert_eq!(folded(&path).lines().count(), 3);
        assert_eq!(folded(&path).replace('\n', ""), path);
        assert_eq!(folded("the build"), "the build");
    }
}
