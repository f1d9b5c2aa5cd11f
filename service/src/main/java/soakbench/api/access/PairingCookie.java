package soakbench.api.access;

import java.nio.ByteBuffer;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.time.Duration;
import java.util.Arrays;
import java.util.Base64;
import java.util.function.LongSupplier;

/**
 * The cookie of a paired browser: the second it was issued, 16 random bytes, and a code over both
 * that only a holder of the token can make. So it outlives a restart without being stored, and
 * another token makes it void.
 */
final class PairingCookie {
  static final Duration LIFE = Duration.ofDays(30);

  private static final int RANDOM_BYTES = 16;
  private static final int SIGNED_BYTES = Long.BYTES + RANDOM_BYTES;
  private static final int MAC_BYTES = 32;
  private static final int LENGTH = 75;
  private static final long CLOCK_SET_BACK_S = 300;

  private final byte[] key;
  private final LongSupplier nowS;
  private final SecureRandom random = new SecureRandom();

  /**
   * @param nowS seconds since 1970
   */
  PairingCookie(AccessToken token, LongSupplier nowS) {
    this.key = token.cookieKey();
    this.nowS = nowS;
  }

  String issue() {
    byte[] signed = new byte[SIGNED_BYTES];
    random.nextBytes(signed);
    ByteBuffer.wrap(signed).putLong(nowS.getAsLong());
    byte[] whole = Arrays.copyOf(signed, SIGNED_BYTES + MAC_BYTES);
    System.arraycopy(AccessToken.mac(key, signed), 0, whole, SIGNED_BYTES, MAC_BYTES);
    return Base64.getUrlEncoder().withoutPadding().encodeToString(whole);
  }

  /** Whether it is one of ours and not too old. */
  boolean isGood(String value) {
    byte[] whole = decoded(value);
    if (whole.length != SIGNED_BYTES + MAC_BYTES) {
      return false;
    }
    byte[] signed = Arrays.copyOf(whole, SIGNED_BYTES);
    byte[] mac = Arrays.copyOfRange(whole, SIGNED_BYTES, whole.length);
    if (!MessageDigest.isEqual(mac, AccessToken.mac(key, signed))) {
      return false;
    }
    long ageS = nowS.getAsLong() - ByteBuffer.wrap(signed).getLong();
    return ageS >= -CLOCK_SET_BACK_S && ageS < LIFE.toSeconds();
  }

  private static byte[] decoded(String value) {
    if (value.length() != LENGTH) {
      return new byte[0];
    }
    try {
      return Base64.getUrlDecoder().decode(value);
    } catch (IllegalArgumentException e) {
      return new byte[0];
    }
  }
}
