"""What a text editor needs to help with rule files: colours, names, places, problems as one types."""
