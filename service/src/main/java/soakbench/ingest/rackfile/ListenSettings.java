package soakbench.ingest.rackfile;

/**
 * Where lines are taken from the network. Nothing listens unless it is set.
 *
 * @param udp address to take datagrams at, or null
 * @param tcp address to take connections at, or null
 * @param lines what is set about the lines of all senders
 * @param ask what is sent to a tracker that connects; over UDP nothing is ever sent
 */
public record ListenSettings(
    ListenAddress udp, ListenAddress tcp, LineSettings lines, AskSettings ask) {
  /** Nothing listens. */
  public static final ListenSettings NONE =
      new ListenSettings(null, null, LineSettings.NONE, AskSettings.NONE);

  /** TCP alone, of trackers whose lines hold everything themselves. */
  public static ListenSettings tcp(ListenAddress address) {
    return new ListenSettings(null, address, LineSettings.NONE, AskSettings.NONE);
  }

  public boolean isNothing() {
    return udp == null && tcp == null;
  }
}
