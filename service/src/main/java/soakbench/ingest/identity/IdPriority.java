package soakbench.ingest.identity;

import soakbench.lines.Rejection;
import soakbench.lines.Rejection.Kind;

/**
 * Which ids are kept where places are short: each id costs memory. A sender that makes up ids fills
 * the places of new ones and no others: known trackers have places of their own, and one that a
 * slot names always has one.
 */
public enum IdPriority {
  /** Never heard before. */
  NEW(256, 4_096),
  /** Heard before, now or in an earlier run. */
  HEARD_BEFORE(1_024, 8_192),
  /** A slot names it; there are as many as the rack file says. */
  NAMED(Integer.MAX_VALUE, Integer.MAX_VALUE);

  private final int most;
  private final int mostInAll;
  private final Rejection tooMany;
  private final Rejection tooManyInAll;

  IdPriority(int most, int mostInAll) {
    this.most = most;
    this.mostInAll = mostInAll;
    this.tooMany = new Rejection(Kind.BAD_ID, "more than " + most + " different ids on one source");
    this.tooManyInAll =
        new Rejection(Kind.BAD_ID, "more than " + mostInAll + " different ids in all");
  }

  /** How many ids of one source may have this priority. */
  public int most() {
    return most;
  }

  /** The same of all sources together. */
  int mostInAll() {
    return mostInAll;
  }

  Rejection tooMany() {
    return tooMany;
  }

  Rejection tooManyInAll() {
    return tooManyInAll;
  }
}
