package soakbench.api.http;

import io.javalin.http.Context;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;

/**
 * Tells a client that what it has is still what it would get (RFC 9110, 8.8.3 and 13.1.2). Tags are
 * weak, since an answer may be packed on its way.
 */
public final class EntityTag {
  private static final int BYTES = 12;

  private EntityTag() {}

  /**
   * Sets the tag of an answer.
   *
   * @param content all that the answer follows from, or the answer itself
   * @return whether the client has it already: then it was told so, and nothing else is to be sent
   */
  static boolean isKept(Context ctx, byte[] content) {
    String tag = "W/\"" + HexFormat.of().formatHex(digest(content)) + "\"";
    ctx.header("ETag", tag);
    boolean kept = asked(ctx.header("If-None-Match"), tag);
    if (kept) {
      ctx.status(304);
    }
    return kept;
  }

  /**
   * The same of something that does not change any more, so that it need not be read again to be
   * told so; a cache may keep it and has to ask.
   *
   * @param state what tells it from what it was before
   */
  public static boolean isKept(Context ctx, Object state) {
    ctx.header("Cache-Control", "private, no-cache");
    String all = String.join("\n", ctx.path(), String.valueOf(ctx.queryString()), state.toString());
    return isKept(ctx, all.getBytes(StandardCharsets.UTF_8));
  }

  private static boolean asked(String header, String tag) {
    if (header == null) {
      return false;
    }
    List<String> tags = Arrays.stream(header.split(",")).map(String::strip).toList();
    return tags.contains("*") || tags.contains(tag) || tags.contains(tag.substring(2));
  }

  private static byte[] digest(byte[] content) {
    try {
      return Arrays.copyOf(MessageDigest.getInstance("SHA-256").digest(content), BYTES);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }
}
