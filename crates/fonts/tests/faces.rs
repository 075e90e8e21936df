//! Each face is what it says it is, as an independent reader of TrueType sees it.

use dryfit_fonts::{FACES, FAMILY, LICENCE};
use ttf_parser::{Face, name_id};

#[test]
fn each_face_is_an_upright_of_the_family_in_its_weight() {
    let weights: Vec<u16> = FACES.iter().map(|face| face.weight).collect();
    assert_eq!(weights, [400, 500, 600, 700]);
    for face in FACES {
        // OpenType 1.9, "Organization of an OpenType font": version 0x00010000 is TrueType outlines
        assert_eq!(face.bytes[..4], [0, 1, 0, 0], "weight {}", face.weight);
        let parsed = Face::parse(face.bytes, 0).expect("a face that parses");
        let names = parsed.names().into_iter();
        let families: Vec<String> = names
            .filter(|n| [name_id::FAMILY, name_id::TYPOGRAPHIC_FAMILY].contains(&n.name_id))
            .filter_map(|n| n.to_string())
            .collect();
        assert!(families.iter().any(|name| name == FAMILY), "weight {}: {families:?}", face.weight);
        assert_eq!(parsed.weight().to_number(), face.weight);
        assert!(!parsed.is_italic(), "weight {}", face.weight);
    }
}

#[test]
fn a_tape_reads_in_figures_of_one_width() {
    for face in FACES {
        let parsed = Face::parse(face.bytes, 0).expect("a face that parses");
        let advance = |c: char| parsed.glyph_index(c).and_then(|glyph| parsed.glyph_hor_advance(glyph));
        for digit in '0'..='9' {
            assert!(advance(digit).is_some());
            assert_eq!(advance(digit), advance('0'), "`{digit}` in weight {}", face.weight);
        }
        for needed in "/'\"×±°–—".chars() {
            assert!(parsed.glyph_index(needed).is_some(), "`{needed}` in weight {}", face.weight);
        }
    }
}

#[test]
fn the_licence_is_the_open_font_licence() {
    assert!(LICENCE.contains("SIL OPEN FONT LICENSE Version 1.1"));
}
