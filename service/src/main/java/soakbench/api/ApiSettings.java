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
 * @param largestUploadBytes most bytes of samples in one request, after unpacking
 * @param mostEventClients how many boards and programs may listen to events at once
 * @param heartbeat a comment goes to each event client when nothing else did for this long; finds
 *     out who has gone
 * @param idle a connection that moves no byte for this long is closed
 * @param access who may ask
 * @param uploads what uploads of samples may do
 */
public record ApiSettings(
    String host,
    int port,
    long largestUploadBytes,
    int mostEventClients,
    Duration heartbeat,
    Duration idle,
    AccessSettings access,
    UploadLimits uploads) {

  /** With the default bounds on uploads. */
  public ApiSettings(
      String host,
      int port,
      long largestUploadBytes,
      int mostEventClients,
      Duration heartbeat,
      Duration idle,
      AccessSettings access) {
    this(
        host,
        port,
        largestUploadBytes,
        mostEventClients,
        heartbeat,
        idle,
        access,
        UploadLimits.DEFAULT);
  }

  /** Open to everybody who reaches it. */
  public ApiSettings(
      String host,
      int port,
      long largestUploadBytes,
      int mostEventClients,
      Duration heartbeat,
      Duration idle) {
    this(host, port, largestUploadBytes, mostEventClients, heartbeat, idle, AccessSettings.OPEN);
  }

  /** With the defaults for all else. */
  public ApiSettings(String host, int port) {
    this(host, port, 64L << 20, 100, Duration.ofSeconds(10), Duration.ofSeconds(30));
  }

  /** On this computer alone. */
  public static ApiSettings local(int port) {
    return new ApiSettings("127.0.0.1", port);
  }

  /** With another limit for uploads, bytes. */
  public ApiSettings withLargestUploadBytes(long bytes) {
    return new ApiSettings(host, port, bytes, mostEventClients, heartbeat, idle, access, uploads);
  }

  /** With another heartbeat. */
  public ApiSettings withHeartbeat(Duration every) {
    return new ApiSettings(
        host, port, largestUploadBytes, mostEventClients, every, idle, access, uploads);
  }

  /** With other rules for who may ask. */
  public ApiSettings withAccess(AccessSettings rules) {
    return new ApiSettings(
        host, port, largestUploadBytes, mostEventClients, heartbeat, idle, rules, uploads);
  }

  /** With other bounds on uploads. */
  public ApiSettings withUploads(UploadLimits bounds) {
    return new ApiSettings(
        host, port, largestUploadBytes, mostEventClients, heartbeat, idle, access, bounds);
  }
}
