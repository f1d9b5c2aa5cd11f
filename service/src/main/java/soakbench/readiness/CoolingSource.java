package soakbench.readiness;

import java.util.Optional;

/** Coolings recorded in other soaks. */
public interface CoolingSource {
  /** Knows none. */
  CoolingSource NONE =
      new CoolingSource() {
        @Override
        public Optional<RecordedCooling> ofTracker(String tracker) {
          return Optional.empty();
        }

        @Override
        public Optional<RecordedCooling> ofMates(String tracker) {
          return Optional.empty();
        }
      };

  /** The newest of this tracker. */
  Optional<RecordedCooling> ofTracker(String tracker);

  /** The newest of another tracker of the same rack and lot. */
  Optional<RecordedCooling> ofMates(String tracker);
}
