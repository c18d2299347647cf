using System.Reflection;
using System.Reflection.Emit;
using System.Runtime.CompilerServices;

namespace Stillwatch.Architecture.Tests;

/// <summary>
/// The rehearsed sensor and the chain that is tested on its light share no code: else they would agree because they are one, not because they are right.
/// Held in the compiled code, down to what method bodies call, and in the source text, for a constant leaves no trace in the compiled code.
/// </summary>
public class SharedOpticsTests
{
    private const string Sensor = "Stillwatch.Rehearsal.Sensor";
    private const string Patients = "Stillwatch.Rehearsal.Patients";

    // What makes numbers out of light, and what it is built of.
    private static readonly string[] Chain = ["Stillwatch.Oximetry", "Stillwatch.Dsp"];

    private static readonly Assembly Core = typeof(Stillwatch.Rehearsal.Sensor.OpticalSensor).Assembly;

    private static readonly Dictionary<int, OpCode> OpCodesByValue = typeof(OpCodes).GetFields(BindingFlags.Public | BindingFlags.Static)
        .Select(f => (OpCode)f.GetValue(null)!).ToDictionary(o => o.Value & 0xFFFF);

    [Fact]
    public void The_rehearsed_sensor_refers_to_nothing_of_the_chain()
    {
        Assert.NotEmpty(TypesIn(Sensor));
        Findings.None(TypesIn(Sensor).Concat(TypesIn(Patients)).SelectMany(t => ReferredTo(t).Where(u => Chain.Any(c => IsIn(u, c))).Select(u => $"{t.FullName} → {u.FullName}")));
    }

    [Fact]
    public void The_chain_refers_to_nothing_of_the_rehearsal()
    {
        Assert.NotEmpty(TypesIn("Stillwatch.Oximetry"));
        Findings.None(Chain.SelectMany(TypesIn).SelectMany(t => ReferredTo(t).Where(u => IsIn(u, "Stillwatch.Rehearsal")).Select(u => $"{t.FullName} → {u.FullName}")));
    }

    [Theory]
    [InlineData("src/Stillwatch/Rehearsal/Sensor", "Oximetry", "Dsp")]
    [InlineData("src/Stillwatch/Oximetry", "Rehearsal", "BloodColour")]
    [InlineData("src/Stillwatch/Dsp", "Rehearsal", "BloodColour")]
    public void Neither_names_the_other_in_its_source(string folder, params string[] others) =>
        Findings.None(Checkout.Files(folder, ".cs").SelectMany(path => SourceText.CodeLines(path)
            .Where(line => others.Any(o => line.Text.Contains(o, StringComparison.Ordinal))).Select(line => $"{path}:{line.Number}: {line.Text.Trim()}")));

    [Fact]
    public void The_check_itself_sees_into_method_bodies()
    {
        var seen = ReferredTo(typeof(Probe)).ToHashSet();
        Assert.Contains(typeof(System.Text.Rune), seen); // called in a body, nowhere in a signature
        Assert.Contains(typeof(Version), seen); // made in a lambda
        Assert.Contains(typeof(Half), seen); // inside a generic argument
        Assert.Contains(typeof(Stillwatch.Rehearsal.SeededRandom), ReferredTo(typeof(Stillwatch.Rehearsal.Sensor.OpticalSensor)));
    }

    private static IEnumerable<Type> TypesIn(string space) => Core.GetTypes().Where(t => IsIn(t, space));

    private static bool IsIn(Type type, string space) => type.Namespace == space || type.Namespace?.StartsWith(space + ".", StringComparison.Ordinal) == true;

    /// <summary>All types that a type names: as bases, in members, in attributes, in bodies; those nested in it, as the compiler's own, too.</summary>
    private static IEnumerable<Type> ReferredTo(Type type)
    {
        const BindingFlags all = BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Static | BindingFlags.Instance | BindingFlags.DeclaredOnly;
        var named = new List<Type?> { type.BaseType };
        named.AddRange(type.GetInterfaces());
        named.AddRange(type.GetCustomAttributesData().Select(a => a.AttributeType));
        named.AddRange(type.GetFields(all).Select(f => f.FieldType));
        foreach (var method in type.GetMethods(all).Cast<MethodBase>().Concat(type.GetConstructors(all)))
        {
            named.AddRange(method.GetParameters().Select(p => p.ParameterType));
            if (method is MethodInfo { ReturnType: var returned }) named.Add(returned);
            if (method.GetMethodBody() is not { } body) continue;
            named.AddRange(body.LocalVariables.Select(v => v.LocalType));
            named.AddRange(body.ExceptionHandlingClauses.Where(c => c.Flags == ExceptionHandlingClauseOptions.Clause).Select(c => c.CatchType));
            foreach (var member in Called(method, body))
            {
                named.Add(member as Type ?? member.DeclaringType);
                if (member is MethodInfo { IsGenericMethod: true } generic) named.AddRange(generic.GetGenericArguments());
                if (member is MethodInfo called) named.Add(called.ReturnType);
                if (member is FieldInfo field) named.Add(field.FieldType);
            }
        }

        return named.OfType<Type>().SelectMany(Parts).Concat(type.GetNestedTypes(all).SelectMany(ReferredTo)).Distinct();
    }

    private static IEnumerable<Type> Parts(Type type)
    {
        if (type.HasElementType) return Parts(type.GetElementType()!);
        return type.IsGenericType ? type.GetGenericArguments().SelectMany(Parts).Append(type.GetGenericTypeDefinition()) : [type];
    }

    private static IEnumerable<MemberInfo> Called(MethodBase method, MethodBody body)
    {
        byte[] code = body.GetILAsByteArray() ?? [];
        var typeArguments = method.DeclaringType is { IsGenericType: true } t ? t.GetGenericArguments() : null;
        var methodArguments = method is MethodInfo { IsGenericMethod: true } m ? m.GetGenericArguments() : null;
        for (int at = 0; at < code.Length;)
        {
            int value = code[at++];
            if (value == 0xFE) value = value << 8 | code[at++];
            var operation = OpCodesByValue[value];
            if (operation.OperandType is OperandType.InlineMethod or OperandType.InlineField or OperandType.InlineType or OperandType.InlineTok)
                yield return method.Module.ResolveMember(BitConverter.ToInt32(code, at), typeArguments, methodArguments)!;
            at += operation.OperandType switch
            {
                OperandType.InlineNone => 0,
                OperandType.ShortInlineBrTarget or OperandType.ShortInlineI or OperandType.ShortInlineVar => 1,
                OperandType.InlineVar => 2,
                OperandType.InlineI8 or OperandType.InlineR => 8,
                OperandType.InlineSwitch => 4 + 4 * BitConverter.ToInt32(code, at),
                _ => 4,
            };
        }
    }

    /// <summary>Names types where a glance at signatures does not find them. Never run.</summary>
    private static class Probe
    {
        [MethodImpl(MethodImplOptions.NoInlining)]
        public static bool Hidden(string text) => System.Text.Rune.IsLetter(text.EnumerateRunes().First()) && Make(() => new Version(1, 0).Major) is List<Half[]>;

        private static List<Half[]>? Make(Func<int> number) => number() > 0 ? [] : null;
    }
}
