package soakbench.api.events;

import io.javalin.http.Context;
import io.javalin.http.HandlerType;
import java.io.IOException;
import java.time.Duration;
import java.util.Locale;
import java.util.concurrent.Semaphore;
import soakbench.api.access.ClientQuota;
import soakbench.api.access.RequestLimiter;
import soakbench.api.http.ClientDisconnectedException;
import soakbench.api.http.Connections;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.Routes;
import soakbench.api.http.TrackerFilter;
import soakbench.live.arrival.LiveVerdicts;

/** The stream of events. */
public final class EventCalls {
  private static final String MEDIA_TYPE = "text/event-stream";

  private final EventHub hub;
  private final LiveVerdicts live;
  private final int mostClients;
  private final int mostOfOne;
  private final Duration heartbeat;
  private final Semaphore places;
  private final ClientQuota shares;

  public EventCalls(
      EventHub hub, LiveVerdicts live, int mostClients, int mostOfOne, Duration heartbeat) {
    this.hub = hub;
    this.live = live;
    this.mostClients = mostClients;
    this.mostOfOne = mostOfOne;
    this.heartbeat = heartbeat;
    this.places = new Semaphore(mostClients);
    this.shares = new ClientQuota(mostOfOne);
  }

  public void addTo(Routes routes) {
    routes.get(Routes.EVENTS, this::listen, TrackerFilter.RACK);
  }

  private void listen(Context ctx) throws IOException {
    requireEventStream(ctx);
    ctx.contentType(MEDIA_TYPE).header("Cache-Control", "no-store");
    if (ctx.method() == HandlerType.HEAD) {
      JsonResponses.headOfStream(ctx);
      return;
    }
    if (!places.tryAcquire()) {
      throw new ProblemException(
          Problem.Kind.BUSY,
          mostClients
              + " clients listen already, and more are not taken. Close"
              + " some boards, or poll /api/readiness.");
    }
    String client = RequestLimiter.client(ctx.ip());
    try {
      if (!shares.take(client)) {
        throw new ProblemException(
            Problem.Kind.TOO_MANY_REQUESTS,
            "This client listens " + mostOfOne + " times already, and more is not given to one.");
      }
      try {
        write(ctx);
      } finally {
        shares.giveBack(client);
      }
    } finally {
      places.release();
    }
  }

  /** This request's own thread writes to its client; it does so past the compression. */
  private void write(Context ctx) throws IOException {
    EventClient client =
        new EventClient(
            ctx.res().getOutputStream(),
            Connections.aborting(ctx),
            heartbeat.toMillis(),
            QueryParameters.text(ctx, TrackerFilter.RACK));
    hub.add(client, live.readiness());
    try {
      client.run();
    } catch (IOException e) {
      throw new ClientDisconnectedException(e);
    } catch (InterruptedException e) {
      // The server stops and takes its threads back.
      Thread.currentThread().interrupt();
    } finally {
      hub.remove(client);
    }
  }

  private static void requireEventStream(Context ctx) {
    String accept = ctx.header("Accept");
    if (accept == null || !accept.toLowerCase(Locale.ROOT).contains(MEDIA_TYPE)) {
      throw new ProblemException(
          Problem.Kind.NOT_ACCEPTABLE,
          "Events are a stream: ask with Accept: text/event-stream. For one answer, GET"
              + " /api/readiness.");
    }
  }
}
