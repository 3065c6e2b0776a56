//! The tool from outside: command line in, text and exit code out.

use std::process::Command;

#[test]
fn line_prints_the_station_outside() {
    let output = Command::new(env!("CARGO_BIN_EXE_airpath"))
        .arg("line")
        .output()
        .expect("it runs");
    assert!(output.status.success());
    assert_eq!(
        String::from_utf8_lossy(&output.stdout),
        "ambient 83.5 kPa\n"
    );
}
