package soakbench.lines;

import java.util.Arrays;
import soakbench.lines.Rejection.Kind;
import soakbench.model.Tracker;

/**
 * Collects what one line says and checks it, the same for every form. Reused from line to line. Of
 * several mistakes in a line the first is reported.
 */
final class ReadingDraft {
  /** A 32-bit counter's greatest value. */
  private static final double LARGEST_T_MS = 4294967295.0;

  /** Integers up to here are exact in a double. */
  private static final double LARGEST_SEQ = 9007199254740992.0;

  private final double[] channels = new double[Channel.values().length];
  private String id;
  private String boot;
  private long timeUs;
  private long arrivalUs;
  private long seq;
  private long tMs;
  private Boolean temperatureHeld;
  private Rejection wrong;

  /** What is wrong with the line's own time. */
  private String wrongTime;

  /** Most lines say the same id as the line before. */
  private String lastId;

  ReadingDraft clear() {
    Arrays.fill(channels, Double.NaN);
    id = null;
    boot = null;
    timeUs = Reading.NO_TIME;
    arrivalUs = Reading.NO_TIME;
    seq = -1;
    tMs = -1;
    temperatureHeld = null;
    wrong = null;
    wrongTime = null;
    return this;
  }

  void reject(Kind kind, String reason) {
    if (wrong == null) {
      wrong = new Rejection(kind, reason);
    }
  }

  /** Says that the line is a whole sample, and whether its temperature is an earlier one. */
  void temperatureHeld(boolean held) {
    temperatureHeld = held;
  }

  /** Takes a text column's value; empty means that the line lacks it. */
  void text(Column column, String value) {
    if (value.isEmpty()) {
      return;
    }
    switch (column) {
      case ID -> id = checkedId(column, value);
      case BOOT -> boot = checkedId(column, value);
      case TIME -> timeUs = checkedTime(column, value);
      case ARRIVAL -> arrivalUs = checkedTime(column, value);
      default -> throw new IllegalArgumentException(column + " is a number");
    }
  }

  /** Takes a number column's value, in the column's unit. */
  void number(Column column, double value) {
    switch (column) {
      case SEQ -> seq = counter(column, value, LARGEST_SEQ);
      case T_MS -> tMs = counter(column, value, LARGEST_T_MS);
      default -> channel(column, column.channel(), value * column.factor());
    }
  }

  private void channel(Column column, Channel channel, double value) {
    if (!channel.allows(value)) {
      String found = "%s is %s %s".formatted(column.label(), (float) value, channel.unit());
      reject(Kind.ABSURD_VALUE, found + ", outside " + channel.allowed());
    }
    channels[channel.ordinal()] = value;
  }

  private long counter(Column column, double value, double largest) {
    if (value >= 0 && value <= largest) {
      return (long) value;
    }
    String range = "0 to " + (long) largest;
    reject(Kind.ABSURD_VALUE, column.label() + " is " + value + ", outside " + range);
    return -1;
  }

  private String checkedId(Column column, String value) {
    if (value.equals(lastId)) {
      return lastId;
    }
    if (Tracker.isId(value)) {
      lastId = value;
    } else {
      String shown = "\"" + Printable.of(value, 80) + "\"";
      reject(Kind.BAD_ID, column.label() + " " + shown + " is no id: an id is " + Tracker.ID_RULE);
    }
    return value;
  }

  private long checkedTime(Column column, String value) {
    long us = Rfc3339.microseconds(value);
    if (us == Reading.NO_TIME) {
      String shown = column.label() + " \"" + Printable.of(value, 40) + "\"";
      String allowed = "2026-01-31T12:00:00.000Z between 2000 and 2100";
      rejectTime(column, shown + " is no time like " + allowed);
    }
    return us;
  }

  /** What the line says of a time can't be used. */
  void rejectTime(Column column, String reason) {
    if (column != Column.TIME) {
      reject(Kind.BAD_TIME, reason);
    } else if (wrongTime == null) {
      wrongTime = reason;
    }
  }

  /** The reading, or what is wrong with the line. */
  LineResult finish() {
    checkAllOrNone("rates", Channel.GX);
    checkAllOrNone("acceleration", Channel.AX);
    boolean nothing = Double.isNaN(of(Channel.TEMPERATURE)) && Double.isNaN(of(Channel.GX));
    if (nothing) {
      reject(Kind.NO_CHANNELS, "neither a temperature nor rates");
    }
    if (wrong == null && wrongTime != null) {
      return new Rejection(Kind.BAD_TIME, wrongTime, reading());
    }
    return wrong != null ? wrong : reading();
  }

  private void checkAllOrNone(String what, Channel x) {
    int given = 0;
    for (int axis = 0; axis < 3; axis++) {
      given += Double.isNaN(channels[x.ordinal() + axis]) ? 0 : 1;
    }
    if (given % 3 != 0) {
      reject(Kind.MALFORMED, given + " of 3 axes of " + what + "; send all three or none");
    }
  }

  private double of(Channel channel) {
    return channels[channel.ordinal()];
  }

  private Reading reading() {
    return new Reading(
        id,
        new Reading.Stamps(timeUs, arrivalUs, seq, tMs, boot),
        new Reading.Channels(
            (float) of(Channel.TEMPERATURE),
            (float) of(Channel.GX),
            (float) of(Channel.GY),
            (float) of(Channel.GZ),
            (float) of(Channel.AX),
            (float) of(Channel.AY),
            (float) of(Channel.AZ)),
        temperatureHeld);
  }
}
