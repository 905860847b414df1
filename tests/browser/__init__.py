"""Pages in a real browser: in JupyterLab, on a bridge to their widgets, and read as files."""
