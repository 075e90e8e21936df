//! The one typeface of packet and page: IBM Plex Sans in four weights, with its licence.
//!
//! Holds bytes and nothing else: knows no layout, reads no file at run time, looks at no font of the system.
//! So a packet is set in the same type on every machine. The files are not kept in the repository; `build.rs`
//! installs the npm package `@expo-google-fonts/ibm-plex-sans` and takes them from it.

/// One weight of the upright face, as a whole TrueType file.
#[derive(Clone, Copy, Debug)]
pub struct Face {
    /// Weight class as in the file's `OS/2` table: 400 regular, 500 medium, 600 semibold, 700 bold.
    pub weight: u16,
    /// The TrueType file.
    pub bytes: &'static [u8],
}

/// The family name that every face of [`FACES`] belongs to (OpenType name ids 1 and 16).
pub const FAMILY: &str = "IBM Plex Sans";

/// The faces, lightest first.
pub static FACES: &[Face] = &[
    Face { weight: 400, bytes: include_bytes!(concat!(env!("OUT_DIR"), "/400.ttf")) },
    Face { weight: 500, bytes: include_bytes!(concat!(env!("OUT_DIR"), "/500.ttf")) },
    Face { weight: 600, bytes: include_bytes!(concat!(env!("OUT_DIR"), "/600.ttf")) },
    Face { weight: 700, bytes: include_bytes!(concat!(env!("OUT_DIR"), "/700.ttf")) },
];

/// The licence the faces come under (SIL Open Font License 1.1), as the package carries it. Whoever passes the
/// program on passes this on with it.
pub static LICENCE: &str = include_str!(concat!(env!("OUT_DIR"), "/LICENCE"));
