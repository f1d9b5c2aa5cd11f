package soakbench.cli.running;

/** What a service does to its database. */
public enum Role {
  /** It writes, or does not start where another does. */
  WRITES,
  /** It shows what another writes. */
  READS,
  /** It shows what another writes, and takes over when that one is gone. */
  STANDS_BY
}
