package soakbench.ingest.rackfile;

/**
 * How a port is used.
 *
 * @param baud bits per second, or {@link #AUTO_BAUD}
 * @param reset whether opening the port may reset the tracker
 * @param ask what is sent to the tracker
 */
public record PortSettings(int baud, boolean reset, AskSettings ask) {
  /** Stands for a rate that is found by listening. */
  public static final int AUTO_BAUD = 0;

  /** The rate found by listening, no reset, nothing sent. */
  public static final PortSettings USUAL = new PortSettings(AUTO_BAUD, false, AskSettings.NONE);
}
