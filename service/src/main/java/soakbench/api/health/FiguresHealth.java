package soakbench.api.health;

import soakbench.api.http.Json;
import soakbench.live.deriving.DerivingState;

/**
 * How it goes with figures and calibrations, as {@code /health} tells it.
 *
 * @param state ok, failing where those of some soaks can't be derived, or waiting where none can
 * @param soaks how many soaks fail
 * @param sinceUs since when; null while all is well
 * @param reason what is wrong; null while all is well
 */
record FiguresHealth(String state, int soaks, Long sinceUs, String reason) {
  static FiguresHealth of(DerivingState s) {
    return new FiguresHealth(Json.word(s.state()), s.soaks(), s.sinceUs(), s.reason());
  }

  boolean ok() {
    return reason == null;
  }
}
