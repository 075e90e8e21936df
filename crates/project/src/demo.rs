//! The demo projects that travel with the program.

/// One demo.
#[derive(Clone, Copy, Debug)]
pub struct Demo {
    /// Its name on the command line.
    pub name: &'static str,
    /// What it shows, in a line.
    pub about: &'static str,
    /// Its plan, as a file.
    pub plan: &'static str,
}

/// All demos; the first is shown when no name is given.
pub const DEMOS: &[Demo] = &[Demo {
    name: "potting-room",
    about: "a crooked lean-to: a U of laminate worktop with a sink and a seed fridge under it (inches)",
    plan: include_str!("../../../demos/potting-room.toml"),
}];

/// The demo of that name.
pub fn demo(name: &str) -> Option<&'static Demo> {
    DEMOS.iter().find(|demo| demo.name == name)
}
