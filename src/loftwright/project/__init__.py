"""What the builder decided, once: model, file, demos, and each domain's own input derived from it."""
