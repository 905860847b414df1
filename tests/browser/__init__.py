"""Pages in a real browser: opened in JupyterLab, run, and read as exported files."""
