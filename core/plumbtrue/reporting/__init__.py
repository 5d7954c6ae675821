"""An audit as text for people and pipelines: terminal, Markdown, HTML, JSON."""
