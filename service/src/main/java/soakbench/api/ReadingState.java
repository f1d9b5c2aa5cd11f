package soakbench.api;

import java.util.List;
import java.util.Optional;
import soakbench.ingest.Agent;
import soakbench.ingest.SourceStatus;
import soakbench.ingest.Spool;

/** How the rack's samples come in; nothing until somebody reads a rack. */
final class ReadingState {
  private volatile Agent agent;

  void ask(Agent reader) {
    agent = reader;
  }

  /** What keeps samples from coming in, in a sentence. */
  Optional<String> trouble() {
    Agent asked = agent;
    return asked == null
        ? Optional.empty()
        : asked.failure().map(why -> "Reading has stopped: " + why).or(asked::trouble);
  }

  /** The rack's ports, in the order of the rack file. */
  List<SourceStatus> ports() {
    Agent asked = agent;
    return asked == null ? List.of() : asked.sources();
  }

  Optional<Spool.Standing> spool() {
    return Optional.ofNullable(agent).map(Agent::spool);
  }
}
