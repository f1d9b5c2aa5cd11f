package soakbench.api.access;

import java.time.Duration;

/**
 * How much one client may ask for. A client is an address; of IPv6 the first 64 bits, since one
 * computer has all of the rest.
 *
 * @param requestsPerS requests a second that go on for long; 0 sets no limit
 * @param burst requests that may come at once before that limit holds
 * @param inFlight requests that are being answered at once, beside event streams
 * @param connections open connections
 * @param eventStreams event streams
 * @param longestRequest a request that is not an event stream is cut off after this long
 */
public record AccessLimits(
    int requestsPerS,
    int burst,
    int inFlight,
    int connections,
    int eventStreams,
    Duration longestRequest) {

  private static final Duration LONGEST_REQUEST = Duration.ofMinutes(15);

  /** For a service that only programs of this computer reach. */
  public static final AccessLimits LOCAL = new AccessLimits(0, 0, 120, 500, 100, LONGEST_REQUEST);

  /** For a service that others reach too. */
  public static final AccessLimits WIDE = new AccessLimits(100, 500, 32, 64, 16, LONGEST_REQUEST);
}
