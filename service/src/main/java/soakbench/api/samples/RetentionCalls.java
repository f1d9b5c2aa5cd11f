package soakbench.api.samples;

import io.javalin.http.Context;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.Routes;
import soakbench.live.EventClock;
import soakbench.store.retention.Preview;
import soakbench.store.retention.SampleRetention;

/** How long samples are kept, and which would go. */
public final class RetentionCalls {
  private static final String DAYS = "days";

  private final SampleRetention retention;
  private final EventClock clock;

  public RetentionCalls(SampleRetention retention, EventClock clock) {
    this.retention = retention;
    this.clock = clock;
  }

  public void addTo(Routes routes) {
    routes.json("/api/retention", this::answer, DAYS);
  }

  /**
   * The answer.
   *
   * @param keepSamplesDays for so long samples are kept; null for good
   * @param days of what it is told what would go; null where nobody asked
   * @param going soaks whose samples would go at once
   * @param goingBytes what these samples take; null where the database has not counted its rows yet
   * @param held soaks as old that keep them, being open or not derived as they are now
   * @param gone soaks whose samples were dropped so far
   * @param removing how many of these still have samples, which are being removed
   * @param lateRefused samples that were not taken since the start, as they came to one of these
   */
  record Kept(
      Integer keepSamplesDays,
      Integer days,
      Preview.Soaks going,
      Long goingBytes,
      Preview.Soaks held,
      Preview.Soaks gone,
      long removing,
      long lateRefused) {}

  private Kept answer(Context ctx) {
    Optional<Integer> kept = retention.days();
    int asked =
        QueryParameters.count(
            ctx, DAYS, kept.orElse(0), SampleRetention.MOST_DAYS, SampleRetention.LEAST_DAYS);
    Preview preview =
        asked == 0
            ? null
            : retention.preview(asked, Instant.EPOCH.plus(clock.nowUs(), ChronoUnit.MICROS));
    return new Kept(
        kept.orElse(null),
        asked == 0 ? null : asked,
        preview == null ? null : preview.going(),
        preview == null ? null : preview.bytes(),
        preview == null ? null : preview.held(),
        retention.gone(),
        retention.waiting(),
        retention.dropped().refused());
  }
}
