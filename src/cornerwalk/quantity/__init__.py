"""What people write, as exact values with units: lengths, pressures, forces, temperatures, torques, and back to text."""
