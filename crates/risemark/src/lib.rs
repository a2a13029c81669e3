//! risemark
