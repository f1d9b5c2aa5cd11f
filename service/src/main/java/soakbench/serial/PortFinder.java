package soakbench.serial;

import java.util.List;

/** Tells which serial ports there are now. May be asked by any thread, once a second or oftener. */
@FunctionalInterface
public interface PortFinder {
  /** The ports with a device behind them, by path. */
  List<PortInfo> find();
}
