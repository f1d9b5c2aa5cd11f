package soakbench.readiness;

/**
 * What is too hot, or heats too fast, for a battery.
 *
 * @param rising true where it heats too fast, false where it is too hot
 * @param value the temperature, degC, or its rise, degC/min
 * @param limit what it must stay below, in the same unit
 * @param reason both in words
 */
public record Heat(boolean rising, double value, double limit, String reason) {}
