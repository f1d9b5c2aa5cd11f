package soakbench.ingest.source;

/** Something that lines come from: a serial port, or a socket that trackers send to. */
public interface Source extends AutoCloseable {
  /** Begins to read, on threads of its own; what can't be opened is tried again until it can. */
  void start();

  /** Asks it to stop, without waiting. */
  void stop();

  /** Waits until nothing more comes, then passes on what still waits for a next line. */
  @Override
  void close();

  /** Its status; thread-safe. */
  SourceStatus status();
}
