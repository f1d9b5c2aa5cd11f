package soakbench.live.deriving;

import java.util.Arrays;
import java.util.Comparator;

/**
 * The status of what is derived apart from the writing of samples.
 *
 * @param state in one word
 * @param soaks how many soaks fail
 * @param sinceUs since when, microseconds since 1970; null while all is well
 * @param reason what is wrong; null while all is well
 */
public record DerivationStatus(State state, int soaks, Long sinceUs, String reason) {
  /** All is well. */
  public static final DerivationStatus OK = new DerivationStatus(State.OK, 0, null, null);

  /** In one word. */
  public enum State {
    OK,
    /** Some soaks fail; all others are derived. */
    FAILING,
    /** Nothing can be derived, as the store does not answer; it is tried again. */
    WAITING
  }

  /** The worst of several, with the soaks of all. */
  public static DerivationStatus worst(DerivationStatus... all) {
    DerivationStatus worst =
        Arrays.stream(all).max(Comparator.comparing(DerivationStatus::state)).orElse(OK);
    int soaks = Arrays.stream(all).mapToInt(DerivationStatus::soaks).sum();
    return new DerivationStatus(worst.state, soaks, worst.sinceUs, worst.reason);
  }
}
