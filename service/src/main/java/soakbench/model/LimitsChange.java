package soakbench.model;

/**
 * One entry of the history of limits.
 *
 * @param sinceUs from when on they held for soaks that began, microseconds since 1970
 * @param origin where they came from
 * @param limits all of them
 */
public record LimitsChange(long sinceUs, Origin origin, Limits limits) {

  /** Where limits come from. */
  public enum Origin {
    /** Nobody gave any: those that the methods page lists. */
    DEFAULTS,
    /** A limits file given at the start of the program. */
    FILE,
    /** Put over HTTP while it ran. */
    HTTP
  }
}
