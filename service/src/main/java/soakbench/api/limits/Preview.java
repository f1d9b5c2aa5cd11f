package soakbench.api.limits;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import soakbench.api.http.TrackerNames;
import soakbench.api.limits.PreviewRow.Outcome;
import soakbench.live.watch.Rejudging;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;
import soakbench.store.SoakArchive;

/**
 * Judges past soaks again by proposed limits, from their stored bins, until the time is up. Each
 * keeps what was known of its time constant when it began. Writes nothing. For one request.
 */
final class Preview {
  private static final long US_PER_S = 1_000_000L;

  /** Bins of an hour at a time: those of a week would not fit into memory. */
  private static final long CHUNK_S = 3_600;

  private final SoakArchive archive;
  private final TrackerNames names;
  private final Limits proposed;
  private final long untilNs;
  private boolean timeIsUp;

  Preview(SoakArchive archive, TrackerNames names, Limits proposed, Duration most) {
    this.archive = archive;
    this.names = names;
    this.proposed = proposed;
    this.untilNs = System.nanoTime() + most.toNanos();
  }

  /** A row for each soak until the time is up; the last one may lack its figures. */
  List<PreviewRow> rows(List<Soak> soaks) {
    List<PreviewRow> rows = new ArrayList<>();
    for (Soak soak : soaks) {
      rows.add(row(soak));
      if (isTimeUp()) {
        break;
      }
    }
    return rows;
  }

  /** Whether it stopped because the time was up. */
  boolean timeIsUp() {
    return timeIsUp;
  }

  private PreviewRow row(Soak soak) {
    List<StateChange> own = archive.timeline(soak.id());
    Optional<Outcome> would = judged(soak, own);
    return new PreviewRow(
        soak,
        Outcome.of(own, soak.endUs()),
        would.orElse(null),
        would.isPresent() ? null : "it is so long that the time was up before its end");
  }

  private Optional<Outcome> judged(Soak soak, List<StateChange> own) {
    SoakTerms ownTerms = archive.terms(soak.id()).orElse(SoakTerms.of(proposed));
    Rejudging again = new Rejudging(soak, ownTerms.with(proposed), names::ratesOf);
    long end = Math.floorDiv(soak.endUs(), US_PER_S) + 1;
    for (long from = Math.floorDiv(soak.startUs(), US_PER_S); from < end; from += CHUNK_S) {
      if (from > Math.floorDiv(soak.startUs(), US_PER_S) && isTimeUp()) {
        return Optional.empty();
      }
      archive.bins(soak.tracker(), from, Math.min(end, from + CHUNK_S)).forEach(again::accept);
    }
    return Optional.of(Outcome.of(again.timeline(own), soak.endUs()));
  }

  private boolean isTimeUp() {
    timeIsUp = timeIsUp || System.nanoTime() - untilNs >= 0;
    return timeIsUp;
  }
}
