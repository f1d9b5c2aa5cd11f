package soakbench.demo.unit;

/**
 * A cover taken off for a while; or the sun on the rack, which comes and goes as little foreseen.
 *
 * @param fromS opened, seconds since the run's start
 * @param toS closed again, seconds since the run's start
 * @param dropC how much cooler the surroundings are meanwhile, degC; negative for warmer
 * @param chipDropC how much cooler than its body the air on the bare board would keep the chip,
 *     degC; 0 where the board's own case stays on
 */
public record Uncovering(double fromS, double toS, double dropC, double chipDropC) {

  /** A cover whose tracker keeps its own case on. */
  public Uncovering(double fromS, double toS, double dropC) {
    this(fromS, toS, dropC, 0);
  }
}
