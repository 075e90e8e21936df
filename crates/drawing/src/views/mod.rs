//! Views: one function a picture.
