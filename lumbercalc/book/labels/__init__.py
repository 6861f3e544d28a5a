"""Labels for boards and bundles, on label paper."""
