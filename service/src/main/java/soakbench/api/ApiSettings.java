package soakbench.api;

import java.time.Duration;
import soakbench.api.access.AccessSettings;
import soakbench.api.samples.UploadLimits;

/**
 * Where and how the service answers.
 *
 * @param host the address it listens on; 127.0.0.1 keeps it to this computer, 0.0.0.0 opens it to
 *     the network
 * @param port the port; 0 takes any free one
 * @param streams the streams of events
 * @param idle a connection that moves no byte for this long is closed
 * @param access who may ask
 * @param uploads what uploads of samples may do
 * @param metricTrackers of how many trackers {@code /metrics} tells state and temperature, 0 for
 *     none
 */
public record ApiSettings(
    String host,
    int port,
    Streams streams,
    Duration idle,
    AccessSettings access,
    UploadLimits uploads,
    int metricTrackers) {

  /**
   * Streams of events.
   *
   * @param most how many boards and programs may listen at once
   * @param heartbeat a comment goes to each when nothing else did for this long; finds out who has
   *     gone
   */
  public record Streams(int most, Duration heartbeat) {}

  /** With the defaults for all else: open to everybody who reaches it. */
  public ApiSettings(String host, int port) {
    this(
        host,
        port,
        new Streams(100, Duration.ofSeconds(10)),
        Duration.ofSeconds(30),
        AccessSettings.OPEN,
        UploadLimits.DEFAULT,
        0);
  }

  /** On this computer alone. */
  public static ApiSettings local(int port) {
    return new ApiSettings("127.0.0.1", port);
  }

  /** With other bounds on streams. */
  public ApiSettings withStreams(Streams others) {
    return new ApiSettings(host, port, others, idle, access, uploads, metricTrackers);
  }

  /** With another patience. */
  public ApiSettings withIdle(Duration longest) {
    return new ApiSettings(host, port, streams, longest, access, uploads, metricTrackers);
  }

  /** With other rules for who may ask. */
  public ApiSettings withAccess(AccessSettings rules) {
    return new ApiSettings(host, port, streams, idle, rules, uploads, metricTrackers);
  }

  /** With the state and temperature of up to so many trackers in {@code /metrics}. */
  public ApiSettings withMetricTrackers(int most) {
    return new ApiSettings(host, port, streams, idle, access, uploads, most);
  }

  /** With other bounds on uploads. */
  public ApiSettings withUploads(UploadLimits bounds) {
    return new ApiSettings(host, port, streams, idle, access, bounds, metricTrackers);
  }
}
