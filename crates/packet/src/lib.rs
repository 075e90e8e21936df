//! The printed packet: the data of each page and the template that sets it in type.
