//! risemark-sheets
