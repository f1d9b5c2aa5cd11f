package soakbench.api.http;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * An error as RFC 9457 describes it.
 *
 * @param type {@code urn:soakbench:problem:} and the kind of error, the same for all of its kind
 * @param title the kind of error in words
 * @param status the HTTP status
 * @param detail what happened here and what to do
 * @param problems every single thing that is wrong with the request; empty where {@code detail}
 *     says it all
 */
public record Problem(String type, String title, int status, String detail, List<Item> problems) {
  static final String MEDIA_TYPE = "application/problem+json";

  /**
   * One thing that is wrong.
   *
   * @param line the line of the body that it is in, from 1; null where there are no lines
   * @param field the column, member or parameter; null where it is no single one
   * @param reason what is wrong and what to do
   */
  public record Item(Long line, String field, String reason) {
    public static Item of(String field, String reason) {
      return new Item(null, field, reason);
    }
  }

  public Problem {
    problems = List.copyOf(problems);
  }

  public static Problem of(Kind kind, String detail) {
    return of(kind, detail, List.of());
  }

  public static Problem of(Kind kind, String detail, List<Item> problems) {
    return new Problem(kind.type(), kind.title, kind.status, detail, problems);
  }

  /** For a status that has no kind of its own here. */
  static Problem ofStatus(int status, String detail) {
    for (Kind kind : Kind.values()) {
      if (kind.status == status && kind.general) {
        return of(kind, detail);
      }
    }
    return new Problem("about:blank", "HTTP status " + status, status, detail, List.of());
  }

  /** What may be told to anybody: what kind of error it is. */
  public Problem brief() {
    return new Problem(type, title, status, title + ".", List.of());
  }

  /** Members of this document and some more, for answers that carry data beside the error. */
  public Map<String, Object> with(Map<String, Object> more) {
    Map<String, Object> members = new LinkedHashMap<>();
    members.put("type", type);
    members.put("title", title);
    members.put("status", status);
    members.put("detail", detail);
    members.put("problems", problems);
    members.putAll(more);
    return members;
  }

  /** The kinds of errors that this service answers. */
  public enum Kind {
    INVALID_REQUEST(400, "The request cannot be understood", true),
    TOKEN_NEEDED(401, "Only who has the token or is paired may do this", true),
    CODE_REFUSED(403, "This pairing code lets nobody in", false),
    CROSS_SITE(403, "A page of another site may not change anything here", true),
    NOT_FOUND(404, "There is nothing here", true),
    UNKNOWN_TRACKER(404, "No such tracker", false),
    NOT_SOAKING(404, "The tracker is not soaking now", false),
    UNKNOWN_SOAK(404, "No such soak", false),
    UNKNOWN_LOT(404, "No such lot", false),
    UNKNOWN_ALARM(404, "No such alarm", false),
    UNKNOWN_IMPORT(404, "No such import", false),
    IMPORT_UNDONE(409, "The import was undone", false),
    TRACKER_LIVE(409, "The tracker is being heard now", false),
    UNKNOWN_CALIBRATION(404, "No such calibration mark", false),
    SAMPLES_DROPPED(410, "The samples are no longer kept", false),
    NO_CURVE(409, "The soak has no bias curve", false),
    METHOD_NOT_ALLOWED(405, "This address does not take that method", true),
    NOT_ACCEPTABLE(406, "This cannot be given in the form that was asked for", true),
    TIMEOUT(408, "The request took too long to arrive", true),
    SOAK_ENDED(409, "The soak has ended already", false),
    TOO_LARGE(413, "The request is too large", true),
    URI_TOO_LONG(414, "The address is too long", true),
    UNSUPPORTED_MEDIA_TYPE(415, "This form of content is not taken here", true),
    WRONG_HOST(421, "The service does not go by this name", true),
    INVALID_CONTENT(422, "The content has mistakes", true),
    TOO_MANY_REQUESTS(429, "Too much is asked for at once", true),
    HEADERS_TOO_LARGE(431, "The headers are too large", true),
    INTERNAL_ERROR(500, "Our own mistake", true),
    READ_ONLY(409, "This service only reads", false),
    OTHER_RACK(409, "Another service writes for this rack", false),
    STARTING(503, "The service is starting", false),
    NOT_JUDGING(503, "Nothing is judged now", false),
    STORE_UNAVAILABLE(503, "The database cannot be used now", false),
    BUSY(503, "The service is busy or stopping", true);

    public final int status;
    final String title;
    final boolean general;

    Kind(int status, String title, boolean general) {
      this.status = status;
      this.title = title;
      this.general = general;
    }

    String type() {
      return "urn:soakbench:problem:" + Json.word(this).replace('_', '-');
    }
  }
}
