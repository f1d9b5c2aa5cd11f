package soakbench.api.access;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Locale;
import java.util.function.LongSupplier;

/**
 * Pairing codes: eight characters to be read off a terminal and typed on a phone, without I, L, O
 * and U, 40 random bits. Each is good once and for a short time.
 */
final class PairingCodes {
  private static final String ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
  private static final int LENGTH = 8;
  private static final int MOST_OPEN = 16;

  /** The result of a code that somebody entered. */
  enum Traded {
    GOOD,
    WRONG,
    TOO_OFTEN
  }

  /**
   * A code.
   *
   * @param code with a dash in the middle, as people read it
   * @param untilMs when it ends, milliseconds of the clock
   */
  record Code(String code, long untilMs) {}

  private final Deque<Code> open = new ArrayDeque<>();
  private final GuessLimiter guesses = new GuessLimiter();
  private final SecureRandom random = new SecureRandom();
  private final Duration life;
  private final LongSupplier nowMs;

  /**
   * @param nowMs milliseconds since 1970
   */
  PairingCodes(Duration life, LongSupplier nowMs) {
    this.life = life;
    this.nowMs = nowMs;
  }

  /** A new code. Beyond sixteen that nobody has used, the oldest ends. */
  synchronized Code issue() {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < LENGTH; i++) {
      text.append(i == LENGTH / 2 ? "-" : "").append(ALPHABET.charAt(random.nextInt(32)));
    }
    Code code = new Code(text.toString(), nowMs.getAsLong() + life.toMillis());
    open.addLast(code);
    if (open.size() > MOST_OPEN) {
      open.removeFirst();
    }
    return code;
  }

  /** Uses a code up, unless the client has been wrong too often within this minute. */
  synchronized Traded trade(String client, String entered) {
    long now = nowMs.getAsLong();
    if (!guesses.mayTry(client, now)) {
      return Traded.TOO_OFTEN;
    }
    open.removeIf(code -> now >= code.untilMs());
    byte[] typed = typed(entered).getBytes(StandardCharsets.UTF_8);
    Code found = null;
    for (Code code : open) {
      if (MessageDigest.isEqual(typed(code.code()).getBytes(StandardCharsets.UTF_8), typed)) {
        found = code;
      }
    }
    if (found == null) {
      guesses.wrong(client);
      return Traded.WRONG;
    }
    open.remove(found);
    return Traded.GOOD;
  }

  /** As people type it: any case, with or without the dash, and letters that look like digits. */
  private static String typed(String text) {
    return text.toUpperCase(Locale.ROOT)
        .replaceAll("[\\s-]", "")
        .replace('O', '0')
        .replace('I', '1')
        .replace('L', '1');
  }
}
