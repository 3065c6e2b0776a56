//! CSV, always SI: one row a match, a column the JSON path with dots, names with underscores.

use serde_json::Value;

use super::fields::{NotFinite, Writable};

/// Rows as CSV text. Columns stand in the order in which they are first met; a row that lacks one
/// leaves its cell empty.
pub fn write<T: Writable>(rows: &[T]) -> Result<String, NotFinite> {
    let objects: Result<Vec<Value>, NotFinite> = rows
        .iter()
        .map(|row| row.object().map(Value::Object))
        .collect();
    table(&objects?)
}

fn table(rows: &[Value]) -> Result<String, NotFinite> {
    let mut columns: Vec<String> = Vec::new();
    let mut flat = Vec::with_capacity(rows.len());
    for row in rows {
        let mut cells = Vec::new();
        flatten(row, "", &mut cells);
        for (column, _) in &cells {
            if !columns.contains(column) {
                columns.push(column.clone());
            }
        }
        flat.push(cells);
    }
    let mut writer = csv::Writer::from_writer(Vec::new());
    let fault = |fault: csv::Error| NotFinite(fault.to_string());
    writer.write_record(&columns).map_err(fault)?;
    for cells in flat {
        let row = columns.iter().map(|column| {
            cells
                .iter()
                .find(|(name, _)| name == column)
                .map_or("", |(_, cell)| cell.as_str())
        });
        writer.write_record(row).map_err(fault)?;
    }
    let bytes = writer
        .into_inner()
        .map_err(|fault| NotFinite(fault.to_string()))?;
    String::from_utf8(bytes).map_err(|fault| NotFinite(fault.to_string()))
}

/// Lists of findings are left out: they are text for people, and a row is one match.
const NO_COLUMNS: &str = "findings";

fn flatten(value: &Value, path: &str, cells: &mut Vec<(String, String)>) {
    match value {
        Value::Object(entries) => {
            for (key, item) in entries {
                if key != "name" && key != NO_COLUMNS {
                    flatten(item, &joined(path, key), cells);
                }
            }
        }
        Value::Array(items) => {
            for (i, item) in items.iter().enumerate() {
                let name = item.get("name").and_then(Value::as_str);
                let name = name.map_or_else(|| i.to_string(), |name| name.replace(' ', "_"));
                flatten(item, &joined(path, &name), cells);
            }
        }
        Value::String(text) => cells.push((path.to_owned(), text.clone())),
        other => cells.push((path.to_owned(), other.to_string())),
    }
}

fn joined(path: &str, key: &str) -> String {
    if path.is_empty() {
        key.to_owned()
    } else {
        format!("{path}.{key}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_column_is_the_json_path_with_names_joined_by_underscores() {
        let rows = [
            json!({"rpm": 1000.0, "stations": [{"name": "compressor inlet", "pressure_pa": 1e5}]}),
            json!({"rpm": 2000.0, "error": "no match, at all"}),
        ];
        let text = table(&rows).unwrap();
        let mut lines = text.lines();
        assert_eq!(
            lines.next(),
            Some("rpm,stations.compressor_inlet.pressure_pa,error")
        );
        assert_eq!(lines.next(), Some("1000.0,100000.0,"));
        assert_eq!(lines.next(), Some("2000.0,,\"no match, at all\""));
    }
}
