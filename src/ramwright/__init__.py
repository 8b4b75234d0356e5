"""ramwright: will a hydraulic ram work here, how much water it lifts, and why."""

__version__ = "0.1.0"
