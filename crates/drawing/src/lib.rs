//! A paper model in real-world units, the views of the stages, and the writers.
