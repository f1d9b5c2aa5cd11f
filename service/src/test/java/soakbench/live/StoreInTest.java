package soakbench.live;

import java.util.List;
import java.util.function.Consumer;
import java.util.function.Function;
import soakbench.live.SoakStore.Unit;
import soakbench.live.SoakStore.Written;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.State;
import soakbench.model.StateChange;

/** A store under test, and what tests write to it. */
interface StoreInTest {
  long START_US = 1_772_352_006_453_127L;

  /** The store; the same one at each call. */
  SoakStore store();

  /** The test's own tracker. */
  String tracker();

  default Written write(List<Sample> samples) {
    return read(u -> u.writeSamples(samples));
  }

  default List<Sample> stored() {
    return read(u -> u.samples(tracker(), 0, Long.MAX_VALUE));
  }

  default void run(Consumer<Unit> work) {
    read(
        unit -> {
          work.accept(unit);
          return null;
        });
  }

  default <T> T read(Function<Unit, T> work) {
    try (Unit unit = store().begin()) {
      T result = work.apply(unit);
      unit.commit();
      return result;
    }
  }

  default Sample sample(long afterUs) {
    return at(START_US + afterUs);
  }

  default Sample at(long timeUs) {
    return new Sample(
        tracker(), timeUs, 24.31f, false, 0.31f, -0.12f, 0.05f, 0.01f, -0.02f, 0.99f, 9, 5);
  }

  default Bin bin(long second, double value) {
    Channel[] gyro = {
      new Channel(50, value, value / 3),
      new Channel(49, -value, 1e-300),
      new Channel(1, 0, Double.NaN)
    };
    Channel[] accel = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};
    long firstUs = second * 1_000_000 + 3;
    return new Bin(
        tracker(),
        second,
        firstUs,
        firstUs + 980_001,
        2,
        new Channel(50, value * 7, 0.01),
        gyro,
        accel,
        Double.NaN,
        value / 7);
  }

  default Soak soak(String name, long fromUs, long toUs, Soak.End ended) {
    return new Soak(
        tracker() + "@" + name,
        tracker(),
        START_US + fromUs,
        START_US + toUs,
        toUs - fromUs,
        ended);
  }

  default StateChange change(long afterUs, State state) {
    return new StateChange(START_US + afterUs, state, false);
  }
}
