"""The what-if strip: figures of the drawing as sliders."""
