//! Help shared by the published checks and whole runs.
