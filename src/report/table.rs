//! Tables for reading: a heading with units, columns aligned to the right.

use comfy_table::{CellAlignment, ContentArrangement, Table, presets};

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
