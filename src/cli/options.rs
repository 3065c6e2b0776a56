//! The command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::quantity::UnitSystem;

/// Estimate how a supercharger and turbocharger in series feed a competition engine.
#[derive(Debug, Parser)]
#[command(
    name = "airpath",
    version,
    after_help = "Without a build file the built-in demo is used. Results are estimates; \
                  see the\ncaution at the end of each."
)]
pub(super) struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Write a commented starter build and an invented map for it
    New(NewOptions),
    /// Check builds and maps and report every fault; nothing is solved
    Check(CheckOptions),
    /// Solve one engine speed, station by station
    Point(PointOptions),
    /// Solve the full-load line: answers, table, findings, drawings
    Line(LineOptions),
    /// The charge cooler at its hardest point: state, margin, size needed
    Cooler(CoolerOptions),
    /// Rank compressor maps for a build
    Rank(RankOptions),
    /// List the keys of a build file with their defaults
    Keys(KeysOptions),
    /// Explain a key, a figure, a finding or a topic in half a screen
    Explain(ExplainOptions),
}

impl Command {
    /// The form of what it shows on standard output.
    pub const fn format(&self) -> Format {
        match self {
            Self::New(_) | Self::Keys(_) | Self::Explain(_) => Format::Text,
            Self::Check(options) => options.common.format,
            Self::Point(options) => options.common.format,
            Self::Line(options) => options.common.format,
            Self::Cooler(options) => options.common.format,
            Self::Rank(options) => options.common.format,
        }
    }
}

/// Units of text, drawings and pages; JSON and CSV are always SI.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Units {
    /// kPa, °C, kg/s, kW
    Si,
    /// psi, °F, lb/min, hp
    Us,
}

impl From<Units> for UnitSystem {
    fn from(units: Units) -> Self {
        match units {
            Units::Si => Self::Si,
            Units::Us => Self::Us,
        }
    }
}

/// Form of the result on standard output.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// Tables for reading
    Text,
    /// One JSON object, SI
    Json,
    /// One row per match, SI
    Csv,
}

/// What all commands but `new` share.
#[derive(Debug, Args)]
pub(super) struct Common {
    /// Units of text, messages and drawings
    /// [default: the build's own `units`, else si]
    #[arg(long, value_enum, verbatim_doc_comment)]
    pub units: Option<Units>,
    /// Output format
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Folder for drawings [default: out]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Set a key of the build, as in site.altitude="2400 m" or
    /// supercharger.drive_ratio=2.3; an empty value removes it
    #[arg(long = "set", value_name = "KEY=VALUE", verbatim_doc_comment)]
    pub set: Vec<String>,
    /// List in full what is otherwise only counted, such as the defaults used
    #[arg(long)]
    pub verbose: bool,
    /// Exit with 3 when a finding is over or outside the data,
    /// or a speed has no match
    #[arg(long, verbatim_doc_comment)]
    pub strict: bool,
}

/// `new`.
#[derive(Debug, Args)]
pub(super) struct NewOptions {
    /// The build file to write; its map goes into the same folder
    #[arg(value_name = "PATH.toml")]
    pub path: PathBuf,
    /// Units of the values in it
    #[arg(long, value_enum, default_value_t = Units::Si)]
    pub units: Units,
}

/// `keys`.
#[derive(Debug, Args)]
pub(super) struct KeysOptions {
    /// One section: site, engine, engine.head, supercharger, cooler,
    /// turbine …; air_path for all parts
    #[arg(value_name = "SECTION", verbatim_doc_comment)]
    pub section: Option<String>,
    /// Units of the examples
    #[arg(long, value_enum, default_value_t = Units::Si)]
    pub units: Units,
    /// Output format
    #[arg(long, value_enum, default_value_t = KeysForm::Text)]
    pub format: KeysForm,
}

/// Form of the key tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum KeysForm {
    /// For reading
    Text,
    /// One JSON object
    Json,
    /// A JSON Schema of the build file, for editors
    Schema,
}

/// `explain`.
#[derive(Debug, Args)]
pub(super) struct ExplainOptions {
    /// The word to explain; without it the topics are listed
    #[arg(value_name = "WORD", conflicts_with = "schema")]
    pub word: Option<String>,
    /// A JSON Schema of what a command prints with --format json:
    /// point, line, cooler, rank or check
    #[arg(long, value_name = "COMMAND", verbatim_doc_comment)]
    pub schema: Option<String>,
    /// Units of values in the text
    #[arg(long, value_enum, default_value_t = Units::Si)]
    pub units: Units,
    /// Output format
    #[arg(long, value_enum, default_value_t = ExplainForm::Text)]
    pub format: ExplainForm,
}

/// Form of an explanation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum ExplainForm {
    /// For reading
    Text,
    /// One JSON object
    Json,
}

/// `check`.
#[derive(Debug, Args)]
pub(super) struct CheckOptions {
    /// Builds (.toml), map files, folders of maps
    #[arg(value_name = "FILE")]
    pub files: Vec<PathBuf>,
    /// Shared options.
    #[command(flatten)]
    pub common: Common,
}

/// `point`.
#[derive(Debug, Args)]
pub(super) struct PointOptions {
    /// The build (.toml); without it the built-in demo
    #[arg(value_name = "FILE")]
    pub build: Option<PathBuf>,
    /// Engine speed
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    pub rpm: f64,
    /// Show how each result responds to the most important inputs,
    /// and its band from all inputs given with +-
    #[arg(long, verbatim_doc_comment)]
    pub sensitivity: bool,
    /// Shared options.
    #[command(flatten)]
    pub common: Common,
}

/// `line`.
#[derive(Debug, Args)]
pub(super) struct LineOptions {
    /// The build (.toml); without it the built-in demo
    #[arg(value_name = "FILE")]
    pub build: Option<PathBuf>,
    /// Use this compressor map for the build's last turbo compressor
    #[arg(long, value_name = "FILE")]
    pub map: Option<PathBuf>,
    /// Also run the build with these values changed (up to three times),
    /// as in "at the pass: site.altitude=2900 m; turbine.efficiency=0.6"
    #[arg(
        long,
        alias = "beside",
        value_name = "NAME: KEY=VALUE; KEY=VALUE",
        verbatim_doc_comment
    )]
    pub compare: Vec<String>,
    /// Columns of the table by name, as in air,boost,charge;
    /// "all" shows every column, a wrong name lists the names
    #[arg(
        long,
        value_name = "NAMES",
        value_delimiter = ',',
        verbatim_doc_comment
    )]
    pub columns: Vec<String>,
    /// Shared options.
    #[command(flatten)]
    pub common: Common,
}

/// `cooler`.
#[derive(Debug, Args)]
pub(super) struct CoolerOptions {
    /// The build (.toml); without it the built-in demo
    #[arg(value_name = "FILE")]
    pub build: Option<PathBuf>,
    /// Which cooler, counted from 1 in flow order
    /// [default: the last before the manifold]
    #[arg(long, value_name = "N", verbatim_doc_comment)]
    pub cooler: Option<usize>,
    /// Charge temperature that must not be exceeded, as in "60 degC"
    /// [default: the build's max_charge_temperature]
    #[arg(
        long,
        value_name = "TEMPERATURE",
        allow_hyphen_values = true,
        verbatim_doc_comment
    )]
    pub target: Option<String>,
    /// Simulate core and water over this many seconds at full load
    #[arg(long, value_name = "S", allow_negative_numbers = true)]
    pub seconds: Option<f64>,
    /// Temperature of core and water at the start of the run
    /// [default: that of the cooling side]
    #[arg(
        long,
        verbatim_doc_comment,
        value_name = "TEMPERATURE",
        requires = "seconds",
        allow_hyphen_values = true
    )]
    pub start_temperature: Option<String>,
    /// Hold this engine speed during the run
    /// [default: the speed with the most heat]
    #[arg(
        long,
        verbatim_doc_comment,
        value_name = "RPM",
        requires = "seconds",
        allow_negative_numbers = true
    )]
    pub hold: Option<f64>,
    /// Sweep from the first to the last speed of the line during the run
    #[arg(long, requires = "seconds", conflicts_with = "hold")]
    pub swept: bool,
    /// Shared options.
    #[command(flatten)]
    pub common: Common,
}

/// `rank`.
#[derive(Debug, Args)]
pub(super) struct RankOptions {
    /// A build (.toml) and compressor maps or folders of maps
    #[arg(value_name = "FILE", required = true)]
    pub files: Vec<PathBuf>,
    /// Shared options.
    #[command(flatten)]
    pub common: Common,
}
