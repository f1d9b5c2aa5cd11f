package soakbench.serial;

import java.util.List;

/** Finds which serial ports there are now. Thread-safe, may be asked once a second or oftener. */
@FunctionalInterface
public interface PortFinder {
  /** The ports with a device behind them, by path. */
  List<PortInfo> find();
}
