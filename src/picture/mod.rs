//! A picture as plain data in mm: paths, texts and groups, styled by role. Screen, SVG and PDF painters walk the same
//! data, so that they cannot differ.
