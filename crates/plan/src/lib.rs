//! What the builder stated: types, edits, and the versioned file form.
