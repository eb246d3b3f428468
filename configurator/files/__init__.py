"""The only readers of YAML: catalogue folders and briefs, every problem with its line."""
