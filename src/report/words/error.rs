//! Why there is no match or no timed run, in words whose units are the reader's.

use crate::gas::GasError;
use crate::input::layout_fault;
use crate::matching::MatchError;
use crate::quantity::{Kind, Words, amount, words};
use crate::study::soak::{SoakError, StopReason};

/// Why an installation has no match at a speed.
pub fn match_error(error: &MatchError) -> Words {
    match *error {
        MatchError::Speed { rpm } => {
            format!("an engine speed of {rpm} rpm makes no sense: it must be finite and above 0").into()
        }
        MatchError::Flow { lowest, highest } => words![
            "flow balance: no flow between ",
            amount(lowest, Kind::MassFlow, "kg/s", 4),
            " and ",
            amount(highest, Kind::MassFlow, "kg/s", 4),
            " satisfies both the air path and the engine; check pressure drops, displacement and volumetric \
             efficiency",
        ],
        MatchError::Soot {
            air_fuel_ratio,
            smallest,
        } => format!(
            "combustion: the mixture is too rich to burn (air–fuel ratio {air_fuel_ratio:.1}, at least \
             {smallest:.1}); give less fuel, or a smallest_air_fuel_ratio that limits it"
        )
        .into(),
        MatchError::Unsettled { flow, residual } => words![
            "flow balance: near ",
            amount(flow, Kind::MassFlow, "kg/s", 4),
            " the flow, pressure and exhaust balances do not meet",
            residual.map_or_else(String::new, |residual| {
                format!(" (largest residual {residual:.1e})")
            }),
            "; check for unusual areas, pressure drops or ratios there",
        ],
        MatchError::RunsAway { turbine, from, to } => format!(
            "power balance of turbine {turbine}: it gives more power than the compressor absorbs at every \
             pressure ratio from {from:.2} to {to:.2} and runs away; a larger turbine, a wastegate or less \
             fuel would hold it"
        )
        .into(),
        MatchError::NoWay { turbine, from, to } => format!(
            "power balance of turbine {turbine}: it gives more power than the compressor absorbs at every \
             pressure ratio from {from:.2} to {to:.2}, and beyond that no flow balances; a larger turbine, a \
             wastegate or less fuel would hold it"
        )
        .into(),
        MatchError::NoScavenging { manifold, exhaust } => words![
            "no scavenging: the manifold at ",
            amount(manifold, Kind::AbsolutePressure, "kPa", 1),
            " does not exceed the exhaust at ",
            amount(exhaust, Kind::AbsolutePressure, "kPa", 1),
            "; a faster supercharger, a larger turbine or a freer exhaust would drive air through the \
             cylinders",
        ],
        MatchError::Stalls { turbine, at } => format!(
            "power balance of turbine {turbine}: it gives less power than the compressor absorbs already at a \
             pressure ratio of {at:.3} and stalls; a smaller turbine would turn it"
        )
        .into(),
        MatchError::Sink(error) => words!["the coolant of a charge cooler: ", gas_error(error)],
        MatchError::Gate { turbine, largest } => format!(
            "wastegate of turbine {turbine}: no share from 0 to {largest:.2} holds the boost limit with the \
             power balance met"
        )
        .into(),
    }
}

/// What a gas cannot answer.
fn gas_error(error: GasError) -> Words {
    match error {
        GasError::Temperature(temperature) => words![
            amount(temperature, Kind::Temperature, "degC", 1),
            " is outside the gas data, ",
            amount(200.0, Kind::Temperature, "degC", 0),
            " to ",
            amount(6000.0, Kind::Temperature, "degC", 0),
        ],
        // No temperature follows, of which a reader could make more than of the core's own numbers.
        GasError::Enthalpy(_) | GasError::Entropy(_) => error.to_string().into(),
    }
}

/// Why a timed run ends early.
pub fn run_ended(reason: &StopReason) -> Words {
    match reason {
        StopReason::NoMatch(error) => match_error(error),
        StopReason::Boils(_) => {
            "the water leaving the cooler boils, and nothing is calculated beyond that".into()
        }
    }
}

/// Why there is no timed run.
pub fn no_run(error: &SoakError) -> Words {
    match error {
        SoakError::NothingStores => {
            "--seconds needs something that stores heat: give metal_mass (of the core), or tank_volume of its \
             water"
                .into()
        }
        SoakError::NoCooler => "there is no such cooler".into(),
        SoakError::Layout(fault) => layout_fault(fault).into(),
        SoakError::NoStart { rpm, reason } => words![
            format!("no match at the start, at {rpm:.0} rpm: "),
            run_ended(reason),
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::UnitSystem;

    #[test]
    fn an_error_speaks_the_readers_units() {
        let error = MatchError::NoScavenging {
            manifold: 100e3,
            exhaust: 110e3,
        };
        let both =
            [UnitSystem::Si, UnitSystem::Us].map(|system| match_error(&error).in_units(system));
        assert!(
            both[0].contains("at 100.0 kPa does not exceed the exhaust at 110.0 kPa"),
            "{both:?}"
        );
        // 100 kPa = 14.50 psi by hand.
        assert!(both[1].contains("at 14.5 psi"), "{both:?}");
        let flow = MatchError::Flow {
            lowest: 0.1,
            highest: 0.2,
        };
        // 0.1 kg/s = 13.23 lb/min by hand.
        let us = match_error(&flow).in_units(UnitSystem::Us);
        assert!(
            us.contains("between 13.23 lb/min and 26.46 lb/min satisfies both"),
            "{us}"
        );
    }

    #[test]
    fn a_coolant_out_of_range_says_so_in_degrees() {
        let text = match_error(&MatchError::Sink(GasError::Temperature(150.0)));
        assert!(
            text.to_string().contains("-123.1 degC is outside"),
            "{text}"
        );
        assert!(
            text.in_units(UnitSystem::Us).contains("-189.7 degF"),
            "{text}"
        );
    }
}
