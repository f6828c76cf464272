"""The body: segments, poses, statics, figures. Imports only the model."""
