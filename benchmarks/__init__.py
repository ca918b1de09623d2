"""What is claimed of gudgeon's speed, measured by one command: python -m benchmarks."""
