package soakbench.api.samples;

import java.time.Duration;

/**
 * What uploads of samples may do, so that neither a wrong clock nor a faulty sender keeps others
 * from being watched.
 *
 * @param largestBytes most bytes of samples in one request, after unpacking
 * @param ahead how far a line's time may lie ahead of this computer's clock
 * @param newPerRequest how many tracker ids that were never heard one request may bring
 * @param newPerSender how many one address may bring in a day
 * @param newPerDay how many all together may bring in a day
 */
public record UploadLimits(
    long largestBytes, Duration ahead, int newPerRequest, int newPerSender, int newPerDay) {
  public static final UploadLimits DEFAULT =
      new UploadLimits(Duration.ofMinutes(1), 200, 1_000, 2_000);

  /** Of the usual size. */
  public UploadLimits(Duration ahead, int newPerRequest, int newPerSender, int newPerDay) {
    this(64L << 20, ahead, newPerRequest, newPerSender, newPerDay);
  }

  /** Of another size, bytes. */
  public UploadLimits withLargestBytes(long bytes) {
    return new UploadLimits(bytes, ahead, newPerRequest, newPerSender, newPerDay);
  }
}
