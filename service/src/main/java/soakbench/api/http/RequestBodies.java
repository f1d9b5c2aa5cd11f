package soakbench.api.http;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.io.IOException;
import java.util.Locale;

/** Checks what a request sends. */
public final class RequestBodies {
  private RequestBodies() {}

  /**
   * Makes sure that the body is of the wanted type.
   *
   * @param what the beginning of a sentence, "Limits are taken"
   * @throws ProblemException 415 if it is of another, or says none
   */
  public static void requireMediaType(Context ctx, String wanted, String what) {
    String type = ctx.contentType();
    if (type == null || !type.toLowerCase(Locale.ROOT).startsWith(wanted)) {
      throw new ProblemException(
          Problem.Kind.UNSUPPORTED_MEDIA_TYPE,
          what
              + " as "
              + wanted
              + "; set Content-Type. The request has "
              + (type == null ? "none." : type + "."));
    }
  }

  /**
   * Reads a JSON object that need not be there.
   *
   * @param what the beginning of a sentence, "Limits are taken"
   * @param name what it should be, "a tracker"
   * @param example ends "Send ..."
   * @return an object without members where the body is empty
   * @throws ProblemException 415 if it is of another type, 400 if it is no such object
   */
  public static JsonNode optional(Context ctx, String what, String name, String example) {
    byte[] body = ctx.bodyAsBytes();
    if (body.length == 0) {
      return Json.mapper().createObjectNode();
    }
    requireMediaType(ctx, "application/json", what);
    return object(body, name, example);
  }

  /**
   * Reads a JSON object in which no member comes twice.
   *
   * @param what what it should be, "a tracker"
   * @param example ends "Send …"
   * @throws ProblemException 400 if the body is no such object
   */
  public static JsonNode object(byte[] body, String what, String example) {
    String why;
    try {
      JsonNode node =
          Json.mapper().reader().with(StreamReadFeature.STRICT_DUPLICATE_DETECTION).readTree(body);
      if (node.isObject()) {
        return node;
      }
      why = "it is not an object";
    } catch (JsonProcessingException e) {
      why = e.getOriginalMessage();
    } catch (IOException e) {
      why = e.getMessage();
    }
    throw new ProblemException(
        Problem.Kind.INVALID_REQUEST,
        "The body is not " + what + " in JSON: " + why + ". Send " + example + ".");
  }
}
