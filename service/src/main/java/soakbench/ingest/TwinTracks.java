package soakbench.ingest;

import soakbench.lines.Reading;

/**
 * Tells apart two sources of one id behind one address, by what their lines count and say. The port
 * that a datagram comes from says nothing by itself: many senders take a fresh one for each. Only
 * where one port has been used for several lines, and just now, is another one another source until
 * that is silent.
 */
final class TwinTracks {
  private static final long AGREE_MS = 2000;
  private static final long NEAR_COUNTS = 256;
  private static final long COUNTS_A_SECOND = 1000;
  private static final int STEADY_LINES = 3;
  private static final long STEADY_US = 3_000_000;

  /** One of the two. */
  private static final class Track {
    private int port;
    private int linesOfPort;
    private Reading last;
    private long readUs;

    boolean isSteady(long nowUs) {
      return linesOfPort >= STEADY_LINES && nowUs - readUs < STEADY_US;
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
          && !TwoLines.areHalves(last, line)
          && !TwoLines.areSame(last, line);
    }

    void take(Reading line, int fromPort, long nowUs) {
      linesOfPort = fromPort == port && last != null ? linesOfPort + 1 : 1;
      port = fromPort;
      last = line;
      readUs = nowUs;
    }
  }

  private final Track[] tracks = {new Track(), new Track()};

  /** Whose of the two the line is: 0 or 1. */
  int of(Reading line, int port, long nowUs) {
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
      if (track.last != null && !track.isSteady(nowUs) && track.goesOn(line, nowUs)) {
        return i;
      }
    }
    if (tracks[0].last == null) {
      return 0;
    }
    return tracks[1].last == null || tracks[1].readUs <= tracks[0].readUs ? 1 : 0;
  }
}
