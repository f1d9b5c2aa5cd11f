package soakbench.api.access;

import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.util.Optional;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

/**
 * The secret that lets programs in. It is kept as a digest, never printed, and compared in a time
 * that does not depend on how much of a guess is right.
 */
public final class AccessToken {
  /** Fewest characters: 20 of a random token in base 32 or denser hold 100 bits. */
  public static final int FEWEST_CHARACTERS = 20;

  private static final int MOST_CHARACTERS = 1024;

  private final byte[] digest;
  private final byte[] cookieKey;

  /**
   * A token.
   *
   * @param text the token as programs send it
   * @throws IllegalArgumentException if {@link #problem} finds fault with it
   */
  public AccessToken(String text) {
    problem(text)
        .ifPresent(
            problem -> {
              throw new IllegalArgumentException("the token " + problem);
            });
    this.digest = digest(text);
    this.cookieKey = derived(text);
  }

  /** What is wrong with a token, to follow "the token …"; it is never quoted. */
  public static Optional<String> problem(String text) {
    if (text.isEmpty()) {
      return Optional.of("is empty");
    }
    if (!text.chars().allMatch(c -> c > ' ' && c < 0x7f)) {
      return Optional.of(
          "has a blank, a line end or a character beyond ASCII inside; only visible ASCII"
              + " characters can be sent");
    }
    if (text.length() < FEWEST_CHARACTERS || text.length() > MOST_CHARACTERS) {
      return Optional.of(
          "has "
              + text.length()
              + " characters; "
              + FEWEST_CHARACTERS
              + " to "
              + MOST_CHARACTERS
              + " random ones are needed");
    }
    return Optional.empty();
  }

  /** Whether it is this token. */
  boolean is(String offered) {
    return MessageDigest.isEqual(digest, digest(offered));
  }

  /** The key that cookies are signed with: another token makes all of them void. */
  byte[] cookieKey() {
    return cookieKey.clone();
  }

  private static byte[] digest(String text) {
    try {
      return MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException(e);
    }
  }

  private static byte[] derived(String text) {
    return mac(
        text.getBytes(StandardCharsets.UTF_8), "paired browsers".getBytes(StandardCharsets.UTF_8));
  }

  /** HMAC with SHA-256 (RFC 2104), 32 bytes. */
  static byte[] mac(byte[] key, byte[] message) {
    try {
      Mac mac = Mac.getInstance("HmacSHA256");
      mac.init(new SecretKeySpec(key, "HmacSHA256"));
      return mac.doFinal(message);
    } catch (GeneralSecurityException e) {
      throw new IllegalStateException(e);
    }
  }

  @Override
  public String toString() {
    return "a token (not shown)";
  }
}
