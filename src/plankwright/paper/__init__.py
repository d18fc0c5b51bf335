"""Paper: sheets, templates and the how-to, set by typst or written as Markdown and HTML."""
