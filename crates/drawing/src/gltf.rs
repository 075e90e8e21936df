//! Binary glTF 2.0 (ISO/IEC 12113) from the solid model: metres, y up, a node for each node under its role path.
//!
//! Knows nothing of what the bodies are; what is said of them goes along as `extras`, word for word.

use std::collections::BTreeMap;

use dryfit_measure::Length;
use gltf_json::accessor::{ComponentType, GenericComponentType, Type};
use gltf_json::buffer::{Stride, Target, View};
use gltf_json::material::{PbrBaseColorFactor, PbrMetallicRoughness, StrengthFactor};
use gltf_json::mesh::{Mode, Primitive, Semantic};
use gltf_json::scene::UnitQuaternion;
use gltf_json::validation::{Checked, USize64};
use gltf_json::{Accessor, Asset, Buffer, Index, Material, Mesh, Node as Json, Root, Scene, Value};

use crate::solid::{Body, Node, Sort, Stand};

/// A scene as one `.glb` file. Equal scenes give equal bytes.
pub fn glb(scene: &Node) -> Vec<u8> {
    let mut writer = Writer::default();
    let whole = writer.node(scene);
    // the room's z is up; the format's is y
    let half = std::f32::consts::FRAC_1_SQRT_2;
    writer.root.nodes[whole.value()].rotation = Some(UnitQuaternion([-half, 0.0, 0.0, half]));
    writer.finish(scene, whole)
}

/// Numbers of vertices, three to a vertex, and of triangles, as they lie in the file.
#[derive(Default)]
struct Writer {
    root: Root,
    places: Vec<f32>,
    normals: Vec<f32>,
    indices: Vec<u32>,
    materials: BTreeMap<Sort, Index<Material>>,
}

/// The views of the buffer, in order.
const PLACES: u32 = 0;
const NORMALS: u32 = 1;
const INDICES: u32 = 2;

impl Writer {
    fn node(&mut self, node: &Node) -> Index<Json> {
        let extras: serde_json::Map<String, serde_json::Value> =
            node.said.iter().map(|(what, text)| ((*what).to_owned(), text.as_str().into())).collect();
        let extras = (!extras.is_empty()).then(|| serde_json::value::to_raw_value(&extras).ok()).flatten();
        let mesh = node.body.as_ref().and_then(|body| self.mesh(&node.path, node.sort, body));
        let (mut translation, mut rotation) = (None, None);
        if node.stand != Stand::SAME {
            translation = Some(node.stand.origin.map(metres));
            let half = node.stand.along[1].atan2(node.stand.along[0]) / 2.0;
            rotation = Some(UnitQuaternion([0.0, 0.0, half.sin() as f32, half.cos() as f32]));
        }
        let index = Index::push(
            &mut self.root.nodes,
            Json {
                name: Some(node.path.clone()),
                mesh,
                extras,
                translation,
                rotation,
                camera: None,
                children: None,
                extensions: None,
                matrix: None,
                scale: None,
                skin: None,
                weights: None,
            },
        );
        let children: Vec<Index<Json>> = node.children.iter().map(|child| self.node(child)).collect();
        self.root.nodes[index.value()].children = (!children.is_empty()).then_some(children);
        index
    }

    /// Facets as triangles, each with its own normal; none where there is no area.
    fn mesh(&mut self, name: &str, sort: Sort, body: &Body) -> Option<Index<Mesh>> {
        let (first_place, first_index) = (self.places.len(), self.indices.len());
        let mut count: u32 = 0;
        for facet in &body.facets {
            let normal = facet.normal();
            let triangles = facet.triangles();
            if triangles.is_empty() || normal.iter().all(|x| x.abs() < 1e-9) {
                continue;
            }
            for triangle in triangles {
                self.indices.extend(triangle.map(|k| count + u32::try_from(k).unwrap_or_default()));
            }
            for at in facet.rings().flatten() {
                self.places.extend(at.map(metres));
                self.normals.extend(normal.map(|x| x as f32));
                count += 1;
            }
        }
        if count == 0 {
            return None;
        }
        let places = &self.places[first_place..];
        let bound = |pick: fn(f32, f32) -> f32| {
            let axis = |k: usize| places.iter().skip(k).step_by(3).copied().reduce(pick).unwrap_or_default();
            Some(Value::from(vec![axis(0), axis(1), axis(2)]))
        };
        let bounds = (bound(f32::min), bound(f32::max));
        let corners = ComponentType::F32;
        let place = self.accessor(PLACES, first_place * 4, count as usize, corners, Type::Vec3, bounds);
        let normal =
            self.accessor(NORMALS, first_place * 4, count as usize, corners, Type::Vec3, (None, None));
        let length = self.indices.len() - first_index;
        let indices =
            self.accessor(INDICES, first_index * 4, length, ComponentType::U32, Type::Scalar, (None, None));
        let attributes = BTreeMap::from([
            (Checked::Valid(Semantic::Positions), place),
            (Checked::Valid(Semantic::Normals), normal),
        ]);
        let primitive = Primitive {
            attributes,
            indices: Some(indices),
            material: Some(self.material(sort)),
            mode: Checked::Valid(Mode::Triangles),
            targets: None,
            extensions: None,
            extras: None,
        };
        let mesh = Mesh {
            name: Some(name.to_owned()),
            primitives: vec![primitive],
            weights: None,
            extensions: None,
            extras: None,
        };
        Some(Index::push(&mut self.root.meshes, mesh))
    }

    fn accessor(
        &mut self,
        view: u32,
        offset: usize,
        count: usize,
        component: ComponentType,
        shape: Type,
        (min, max): (Option<Value>, Option<Value>),
    ) -> Index<Accessor> {
        let accessor = Accessor {
            buffer_view: Some(Index::new(view)),
            byte_offset: Some(USize64::from(offset)),
            count: USize64::from(count),
            component_type: Checked::Valid(GenericComponentType(component)),
            type_: Checked::Valid(shape),
            min,
            max,
            name: None,
            normalized: false,
            sparse: None,
            extensions: None,
            extras: None,
        };
        Index::push(&mut self.root.accessors, accessor)
    }

    fn material(&mut self, sort: Sort) -> Index<Material> {
        if let Some(index) = self.materials.get(&sort) {
            return *index;
        }
        let (name, colour) = match sort {
            Sort::Group => ("group", [0.80, 0.80, 0.80]),
            Sort::Floor => ("floor", [0.62, 0.60, 0.57]),
            Sort::Wall => ("wall", [0.90, 0.89, 0.86]),
            Sort::Sheet => ("sheet", [0.86, 0.77, 0.61]),
            Sort::Board => ("board", [0.79, 0.63, 0.42]),
            Sort::Top => ("worktop", [0.30, 0.32, 0.34]),
            Sort::Appliance => ("appliance", [0.85, 0.86, 0.87]),
            Sort::Sink => ("sink", [0.66, 0.68, 0.70]),
        };
        let [red, green, blue] = colour;
        let material = Material {
            name: Some(name.to_owned()),
            pbr_metallic_roughness: PbrMetallicRoughness {
                base_color_factor: PbrBaseColorFactor([red, green, blue, 1.0]),
                metallic_factor: StrengthFactor(0.0),
                roughness_factor: StrengthFactor(0.9),
                ..PbrMetallicRoughness::default()
            },
            ..Material::default()
        };
        let index = Index::push(&mut self.root.materials, material);
        self.materials.insert(sort, index);
        index
    }

    fn finish(mut self, scene: &Node, whole: Index<Json>) -> Vec<u8> {
        let lengths = [self.places.len() * 4, self.normals.len() * 4, self.indices.len() * 4];
        let total: usize = lengths.iter().sum();
        if total > 0 {
            let buffer = Buffer {
                byte_length: USize64::from(total),
                name: None,
                uri: None,
                extensions: None,
                extras: None,
            };
            let buffer = Index::push(&mut self.root.buffers, buffer);
            let mut offset = 0;
            for (length, of_vertices) in lengths.into_iter().zip([true, true, false]) {
                let target = if of_vertices { Target::ArrayBuffer } else { Target::ElementArrayBuffer };
                self.root.buffer_views.push(View {
                    buffer,
                    byte_length: USize64::from(length),
                    byte_offset: Some(USize64::from(offset)),
                    byte_stride: of_vertices.then_some(Stride(12)),
                    target: Some(Checked::Valid(target)),
                    name: None,
                    extensions: None,
                    extras: None,
                });
                offset += length;
            }
        }
        self.root.asset = Asset { generator: Some("dryfit".to_owned()), ..Asset::default() };
        let only =
            Scene { name: Some(scene.path.clone()), nodes: vec![whole], extensions: None, extras: None };
        self.root.scene = Some(Index::push(&mut self.root.scenes, only));
        let numbers = self.places.iter().chain(&self.normals).map(|x| x.to_le_bytes());
        let body: Vec<u8> = numbers.chain(self.indices.iter().map(|x| x.to_le_bytes())).flatten().collect();
        // the types are the format's own: they can always be written
        let json = serde_json::to_vec(&self.root).unwrap_or_default();
        packed(json, body)
    }
}

/// Header and chunks (glTF 2.0, 4.4), each padded to four bytes: JSON with spaces, numbers with zeros.
fn packed(mut json: Vec<u8>, mut body: Vec<u8>) -> Vec<u8> {
    json.resize(json.len().next_multiple_of(4), b' ');
    body.resize(body.len().next_multiple_of(4), 0);
    let mut chunks = vec![(b"JSON", json)];
    if !body.is_empty() {
        chunks.push((b"BIN\0", body));
    }
    let total = 12 + chunks.iter().map(|(_, chunk)| chunk.len() + 8).sum::<usize>();
    let word = |n: usize| u32::try_from(n).unwrap_or(u32::MAX).to_le_bytes();
    let mut out = b"glTF".to_vec();
    out.extend(word(2));
    out.extend(word(total));
    for (kind, chunk) in chunks {
        out.extend(word(chunk.len()));
        out.extend(kind);
        out.extend(chunk);
    }
    out
}

fn metres(length: Length) -> f32 {
    (length.as_mm_f64() / 1000.0) as f32
}
