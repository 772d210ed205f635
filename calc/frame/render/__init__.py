"""The one rendering of forms and reports: HTML with SVG and MathML, and text for a terminal."""
