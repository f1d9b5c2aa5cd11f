package soakbench.api.access;

import java.net.Inet6Address;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.time.Duration;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.eclipse.jetty.http.HttpStatus;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.handler.DoSHandler;
import org.eclipse.jetty.util.Callback;
import org.eclipse.jetty.util.thread.Scheduler;
import soakbench.api.http.Routes;

/**
 * Keeps one client from overloading the service: bounds its concurrent requests, and the duration
 * of each. Event streams have a quota of their own, and {@code /health} is always answered.
 */
public final class RequestLimiter extends Handler.Wrapper {
  private static final int MOST_CLIENTS = 10_000;

  private static final Duration FORGET_AFTER = Duration.ofMinutes(1);

  /** An IPv6 network's part of an address, bytes. */
  private static final int NETWORK_BYTES = 8;

  /** Requests of all clients that are answered at once, streams and {@code /health} left out. */
  static final int MOST_IN_FLIGHT = 150;

  /**
   * A sheet asks for all its cells at once, and some spreadsheets send OPTIONS, HEAD and GET for
   * each: 2,000 cells once a minute pass.
   */
  private static final int CELLS_IN_BURST = 20;

  private static final int CELLS_PER_S = 3;

  private static final String[] CELLS = {Routes.CELL + "/*", Routes.CELLS};

  private final AccessLimits limits;
  private final AtomicInteger all = new AtomicInteger();
  private final ClientQuota inFlight;

  RequestLimiter(AccessLimits limits) {
    this.limits = limits;
    this.inFlight = new ClientQuota(limits.inFlight());
  }

  /** Applies these limits, and the rate limit where there is one, to all calls. */
  public static void guard(Server server, AccessLimits limits) {
    RequestLimiter load = new RequestLimiter(limits);
    if (limits.requestsPerS() > 0) {
      DoSHandler calls = rate(limits.requestsPerS(), limits.burst());
      calls.excludePath(CELLS);
      calls.excludePath(Routes.HEALTH);
      DoSHandler cells = rate(CELLS_PER_S * limits.requestsPerS(), CELLS_IN_BURST * limits.burst());
      cells.includePath(CELLS);
      calls.setHandler(cells);
      load.setHandler(calls);
    }
    server.setHandler(load);
  }

  private static DoSHandler rate(int perS, int burst) {
    return new DoSHandler(
        request -> client(Request.getRemoteAddr(request)),
        // Its bucket refuses the request that fills it, so it must hold one more.
        new DoSHandler.LeakingBucketTrackerFactory(perS, burst + 1, FORGET_AFTER),
        new DoSHandler.StatusRejectHandler(HttpStatus.TOO_MANY_REQUESTS_429),
        MOST_CLIENTS);
  }

  @Override
  public boolean handle(Request request, Response response, Callback callback) throws Exception {
    String path = Request.getPathInContext(request);
    if (path.equals(Routes.HEALTH) || path.equals(Routes.EVENTS)) {
      // Health is always answered; streams have a quota of their own.
      return super.handle(request, response, callback);
    }
    String client = client(Request.getRemoteAddr(request));
    if (all.incrementAndGet() > MOST_IN_FLIGHT) {
      all.decrementAndGet();
      Response.writeError(
          request, response, callback, HttpStatus.SERVICE_UNAVAILABLE_503, "too many requests");
      return true;
    }
    if (!inFlight.take(client)) {
      all.decrementAndGet();
      Response.writeError(
          request,
          response,
          callback,
          HttpStatus.TOO_MANY_REQUESTS_429,
          "more than " + limits.inFlight() + " requests of one client at once are not taken");
      return true;
    }
    Scheduler.Task deadline = deadline(request);
    Request.addCompletionListener(
        request,
        failure -> {
          all.decrementAndGet();
          inFlight.giveBack(client);
          deadline.cancel();
        });
    return super.handle(request, response, callback);
  }

  private Scheduler.Task deadline(Request request) {
    return getServer()
        .getScheduler()
        .schedule(
            () -> request.getConnectionMetaData().getConnection().getEndPoint().close(),
            limits.longestRequest().toMillis(),
            TimeUnit.MILLISECONDS);
  }

  /**
   * What counts as one client: an IPv4 address, or the network of an IPv6 address.
   *
   * @param address as text, never a name
   */
  public static String client(String address) {
    try {
      InetAddress parsed = InetAddress.getByName(address);
      if (parsed instanceof Inet6Address) {
        byte[] network = Arrays.copyOf(parsed.getAddress(), NETWORK_BYTES);
        return HexFormat.of().formatHex(network);
      }
      return parsed.getHostAddress();
    } catch (UnknownHostException e) {
      return address;
    }
  }
}
