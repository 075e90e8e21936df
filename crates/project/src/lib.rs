//! One open project: the plan file, edits, and the remembered answers of the solvers.
