"""How Sphinx builds the site: sphinx-build -nW docs docs/_build."""

project = "fourply"
author = "fourply contributors"
project_copyright = author

extensions = ["myst_parser"]
exclude_patterns = ["_build"]
myst_heading_anchors = 3

html_theme = "furo"
html_title = "fourply"
html_show_sourcelink = False
