package soakbench.ingest.identity;

import soakbench.lines.Reading;

/**
 * Tells two sources of one id behind one address apart, by the counters and contents of their
 * lines. The port that a datagram comes from proves nothing by itself: many senders use a fresh one
 * for each, or now and then. Only where two ports alternate are they two sources.
 */
public final class DuplicateIdDetector {
  private static final long AGREE_MS = 2000;
  private static final long NEAR_COUNTS = 256;
  private static final long COUNTS_A_SECOND = 1000;

  /** One return to the port before may be a datagram that came twice. */
  private static final int RETURNS = 2;

  private static final long SILENT_US = 3_000_000;

  /** One of the two. */
  private static final class Track {
    private int port;
    private int portBefore = -1;
    private int returns;
    private Reading last;
    private long readUs;

    boolean isSilent(long nowUs) {
      return nowUs - readUs >= SILENT_US;
    }

    boolean goesOn(Reading line, long nowUs) {
      long elapsedMs = (nowUs - readUs) / 1000;
      if (line.tMs() >= 0 && last.tMs() >= 0) {
        long advanceMs = line.tMs() - last.tMs();
        return advanceMs >= -AGREE_MS && advanceMs <= elapsedMs + AGREE_MS && !clashes(line);
      }
      if (line.seq() >= 0 && last.seq() >= 0) {
        long advance = line.seq() - last.seq();
        long most = NEAR_COUNTS + COUNTS_A_SECOND * elapsedMs / 1000;
        return advance >= -NEAR_COUNTS && advance <= most && !clashes(line);
      }
      return true;
    }

    /** Whether it has the same count but says something else. */
    private boolean clashes(Reading line) {
      return line.seq() >= 0
          && line.seq() == last.seq()
          && !line.isOtherHalfOf(last)
          && !LinePair.areSame(last, line);
    }

    /** Whether this port and the one before alternate. */
    boolean isTurn(Reading line, int fromPort, long nowUs) {
      if (LinePair.isBefore(line, last)) {
        // It was overtaken.
        return false;
      }
      boolean isReturn = fromPort == portBefore && !isSilent(nowUs);
      returns = isReturn ? returns + 1 : 0;
      return returns >= RETURNS;
    }

    void take(Reading line, int fromPort, long nowUs) {
      if (last != null
          && fromPort != port
          && goesOn(line, nowUs)
          && LinePair.isBefore(line, last)) {
        return;
      }
      portBefore = last != null && fromPort != port ? port : portBefore;
      port = fromPort;
      last = line;
      readUs = nowUs;
    }
  }

  private final Track[] tracks = {new Track(), new Track()};

  /** Whether there were two sources: each has a port of its own. */
  private boolean apart;

  /** Whose of the two the line is: 0 or 1. */
  public int of(Reading line, int port, long nowUs) {
    int index = found(line, port, nowUs);
    tracks[index].take(line, port, nowUs);
    return index;
  }

  private int found(Reading line, int port, long nowUs) {
    for (int i = 0; i < tracks.length; i++) {
      if (tracks[i].last != null && tracks[i].port == port) {
        return i;
      }
    }
    for (int i = 0; i < tracks.length; i++) {
      Track track = tracks[i];
      boolean open = track.last != null && (!apart || track.isSilent(nowUs));
      if (open && track.goesOn(line, nowUs)) {
        apart |= track.isTurn(line, port, nowUs);
        return apart && !track.isSilent(nowUs) ? 1 - i : i;
      }
    }
    if (tracks[0].last == null) {
      return 0;
    }
    return tracks[1].last == null || tracks[1].readUs <= tracks[0].readUs ? 1 : 0;
  }
}
