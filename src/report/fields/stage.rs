//! A stage: a part that compresses, and the belt that drives it.

use super::field::{Field, Get};
use super::named::Named;
use super::rows::fields;
use crate::air_path::BeltLoad;
use crate::matching::{Drive, StageState};

fields! {
Named<StageState> {
    name = text "stage",
        "Name of the stage, in flow order." |s| s.name.clone();
    drive = text "driven by",
        "What drives it: prescribed (pressure ratio given in the build), belt or turbine."
        |s| match s.state.drive {
            Drive::Prescribed => "prescribed",
            Drive::Belt => "belt",
            Drive::Turbine => "turbine",
        };
    pressure_ratio = Number "pressure ratio" / "pressure\nratio",
        "Outlet over inlet pressure, both absolute." |s| s.state.pressure_ratio;
    efficiency ? Share "efficiency" / "effi-\nciency",
        "Isentropic efficiency: isentropic over actual enthalpy rise from inlet to outlet."
        |s| s.state.efficiency;
    mass_flow_kg_s = MassFlow "flow through stage" / "flow\nthrough\nstage",
        "Flow through the machine itself, without what a bypass passes or with what it returns."
        |s| s.state.mass_flow;
    power_w = Power "compression power" / "compression\npower",
        "Power given to the air: flow times enthalpy rise." |s| s.state.power_to_air;
    shaft_power_w ? Power "shaft power" / "shaft\npower",
        "Power at the shaft: compression power and mechanical losses." |s| s.state.shaft_power;
    crank_power_w ? Power "power from crank" / "from\ncrank",
        "Power drawn from the crank: shaft power over the efficiency of the belt drive."
        |s| s.state.crank_power;
    speed_rpm ? RotationalSpeed "shaft speed" / "shaft\nspeed",
        "Speed of its shaft." |s| s.state.speed;
    tip_speed_m_s ? SurfaceSpeed "rotor tips",
        "Speed of the rotors' tips: pi times diameter times shaft speed." |s| s.state.tip_speed;
    belt ? one "belt",
        "Loads of its belt, where the pulleys are given." |s| s.state.belt;
    corrected_flow_kg_s ? MassFlow "corrected flow" / "corrected\nflow",
        "Flow corrected to the map's reference state: m √(T1/T_ref)/(p1/p_ref)."
        |s| s.state.corrected_flow;
    corrected_speed_rpm ? RotationalSpeed "corrected speed" / "corrected\nspeed",
        "Shaft speed corrected to the map's reference state: N/√(T1/T_ref)."
        |s| s.state.corrected_speed;
    split_share ? Share "boost split" / "split",
        "Its share of the total pressure ratio: ln of its ratio over ln of the product of all ratios."
        |s| s.state.split_share;
    bypass_share ? Share "bypass share" / "by-\npassed",
        "Share of the flow that passes around the rotors; negative where air is returned."
        |s| s.state.bypass_share;
}

BeltLoad {
    speed_m_s = SurfaceSpeed "belt speed",
        "Speed of the belt." |b| b.speed;
    effective_pull_n = SmallForce "effective pull",
        "Difference of the two tensions: power over belt speed." |b| b.effective_pull;
    tight_tension_n = SmallForce "belt tension, tight side",
        "Tension of the tight side." |b| b.tight;
    slack_tension_n = SmallForce "belt tension, slack/tight side",
        "Smallest tension of the slack side that carries the pull without slip." |b| b.slack;
    shaft_pull_n = SmallForce "minimum shaft load",
        "Load of the belt on the supercharger's shaft at that tension." |b| b.shaft_pull;
}
}

/// What drives a stage, in the words of text.
pub const DRIVEN_BY: Field<Named<StageState>> = Field::in_text(
    "driven by",
    "What drives it.",
    Get::Text(|s| {
        let driven_by = match s.state.drive {
            Drive::Prescribed => "given ratio",
            Drive::Belt => "belt",
            Drive::Turbine => "turbine",
        };
        Some(driven_by.to_owned())
    }),
);
