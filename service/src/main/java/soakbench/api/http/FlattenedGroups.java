package soakbench.api.http;

import com.fasterxml.jackson.databind.introspect.AnnotatedMember;
import com.fasterxml.jackson.databind.introspect.JacksonAnnotationIntrospector;
import com.fasterxml.jackson.databind.util.NameTransformer;
import java.util.Set;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.heading.Heading;
import soakbench.drift.noise.Noise;
import soakbench.lots.AxisSummary;
import soakbench.readiness.Condition;
import soakbench.thermal.WarmUpCurve;

/**
 * Groups that exist to keep records short: in JSON their members are flattened into the record that
 * holds the group, in the group's place. The core knows no JSON, so it can't say so itself. A group
 * is never null, as its parts would be missing then.
 */
final class FlattenedGroups extends JacksonAnnotationIntrospector {
  private static final long serialVersionUID = 1L;

  private static final Set<Class<?>> GROUPS =
      Set.of(
          AxisSummary.Bias.class,
          AxisSummary.Noise.class,
          BiasCurve.Temperatures.class,
          BiasCurve.Basis.class,
          BiasCurve.Powers.class,
          BiasCurve.Figures.class,
          Heading.Asked.class,
          Noise.Deviations.class,
          Condition.Found.class,
          Condition.Wanted.class,
          WarmUpCurve.Basis.class);

  @Override
  public NameTransformer findUnwrappingNameTransformer(AnnotatedMember member) {
    return GROUPS.contains(member.getRawType())
        ? NameTransformer.NOP
        : super.findUnwrappingNameTransformer(member);
  }
}
