package soakbench.api.health;

import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import soakbench.ingest.Agent;
import soakbench.ingest.source.SourceKind;
import soakbench.ingest.source.SourceStatus;
import soakbench.ingest.spool.Spool;

/** The status of ingest from the rack; empty until a rack is read. */
public final class IngestStatus {
  private static final int NAMED = 3;

  private volatile Agent agent;
  private volatile String stopped;

  /**
   * @param reader null where the rack is not read any more
   */
  public void use(Agent reader) {
    agent = reader;
  }

  /**
   * @param why the rack is not read though it should be, without a full stop; null where it is
   */
  public void stopped(String why) {
    stopped = why;
  }

  /** Why nothing of the rack is read, in a sentence; empty where it is, or there is none. */
  Optional<String> stoppedReading() {
    String why = stopped;
    return why != null
        ? Optional.of("it is not read: " + why)
        : Optional.ofNullable(agent).flatMap(Agent::failure);
  }

  /** What keeps what was read from being stored, in a sentence; empty where nothing does. */
  Optional<String> notStored() {
    return Optional.ofNullable(agent).flatMap(Agent::trouble);
  }

  /** What keeps samples from coming in, in a sentence. */
  public Optional<String> trouble() {
    String why = stopped;
    if (why != null) {
      return Optional.of("The rack is not read: " + why + ".");
    }
    Agent current = agent;
    return current == null
        ? Optional.empty()
        : current
            .failure()
            .map(reason -> "Reading has stopped: " + reason)
            .or(current::trouble)
            .or(() -> closed(current.sources()));
  }

  /** Ports that the rack file names and that are not open. */
  private static Optional<String> closed(List<SourceStatus> sources) {
    List<SourceStatus> named =
        sources.stream().filter(s -> s.kind() != SourceKind.SERIAL || !s.slot().isEmpty()).toList();
    List<SourceStatus> closed = named.stream().filter(s -> !s.open()).toList();
    if (closed.isEmpty()) {
      return Optional.empty();
    }
    String which =
        closed.stream().limit(NAMED).map(IngestStatus::words).collect(Collectors.joining("; "));
    String more = closed.size() > NAMED ? "; and " + (closed.size() - NAMED) + " more" : "";
    return Optional.of(
        "%d of %d ports are not open: %s%s.".formatted(closed.size(), named.size(), which, more));
  }

  private static String words(SourceStatus source) {
    String name = source.slot().isEmpty() ? source.port() : source.slot();
    return source.reason().isEmpty() ? name : name + " (" + source.reason() + ")";
  }

  /** The rack's ports, in the order of the rack file. */
  List<SourceStatus> ports() {
    Agent current = agent;
    return current == null ? List.of() : current.sources();
  }

  Optional<Spool.Status> spool() {
    return Optional.ofNullable(agent).map(Agent::spool);
  }
}
