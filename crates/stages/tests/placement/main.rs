//! Runs, corners, heights and worktops with numbers worked by hand.

mod any;
mod corners;
mod heights;
mod room;
mod solids;
mod statements;
mod straight;
