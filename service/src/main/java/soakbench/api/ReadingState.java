package soakbench.api;

import java.util.Optional;
import java.util.function.Supplier;

/** What keeps the rack's samples from coming in; nothing until somebody reads a rack. */
final class ReadingState {
  private volatile Supplier<Optional<String>> asked = Optional::empty;

  void ask(Supplier<Optional<String>> trouble) {
    asked = trouble;
  }

  Optional<String> trouble() {
    return asked.get();
  }
}
