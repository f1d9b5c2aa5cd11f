package soakbench.live.deriving;

import java.util.Arrays;
import java.util.Comparator;

/**
 * How it goes with what is derived apart from the writing of samples.
 *
 * @param state the word for it
 * @param soaks how many soaks fail
 * @param sinceUs since when, microseconds since 1970; null while all is well
 * @param reason what is wrong; null while all is well
 */
public record DerivingState(Word state, int soaks, Long sinceUs, String reason) {
  /** All is well. */
  public static final DerivingState OK = new DerivingState(Word.OK, 0, null, null);

  /** In one word. */
  public enum Word {
    OK,
    /** Some soaks fail; all others are derived. */
    FAILING,
    /** Nothing can be derived, as the store does not answer; it is tried again. */
    WAITING
  }

  /** The worst of several, with the soaks of all. */
  public static DerivingState worst(DerivingState... all) {
    DerivingState worst =
        Arrays.stream(all).max(Comparator.comparing(DerivingState::state)).orElse(OK);
    int soaks = Arrays.stream(all).mapToInt(DerivingState::soaks).sum();
    return new DerivingState(worst.state, soaks, worst.sinceUs, worst.reason);
  }
}
