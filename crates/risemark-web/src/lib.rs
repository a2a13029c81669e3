//! risemark-web
