//! Why an installation cannot be matched at any speed, in words.

use crate::matching::LayoutError;

/// What is wrong, and what would be right.
pub fn layout_fault(fault: &LayoutError) -> String {
    match fault {
        LayoutError::Undriven(number) => format!(
            "turbo compressor {number} has neither a given pressure_ratio nor a turbine that drives it"
        ),
        LayoutError::Driver(number) => format!(
            "turbine {number} drives a turbo compressor that does not exist or is driven already"
        ),
        LayoutError::Mixed(number) => format!(
            "turbine {number} drives a stage with a given pressure_ratio while another stage is solved: give \
             both ratios or none"
        ),
        LayoutError::MapMissing(number) => {
            format!("turbo compressor {number} needs a map")
        }
        LayoutError::SpeedUnknown(number) => format!(
            "turbine {number}: efficiency over blade speed needs a compressor map, as the speed is unknown \
             without one"
        ),
        LayoutError::NoCombustion => {
            "a turbine needs [fuel], [engine.combustion] and compression_ratio".to_owned()
        }
        LayoutError::TooLarge => "more stages than can be solved together".to_owned(),
        LayoutError::Air => {
            "the site's air state is impossible: pressure, temperature or humidity out of range"
                .to_owned()
        }
    }
}
