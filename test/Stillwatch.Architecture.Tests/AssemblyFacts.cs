using System.Reflection.Metadata;
using System.Reflection.Metadata.Ecma335;
using System.Reflection.PortableExecutable;

namespace Stillwatch.Architecture.Tests;

/// <summary>A member that an assembly uses from outside itself, with its number of parameters (for a field: none).</summary>
internal sealed record UsedMember(string Type, string Name, int Parameters)
{
    public override string ToString() => $"{Type}.{Name}({Parameters})";
}

/// <summary>
/// What a compiled assembly refers to, read from its metadata without loading it: whatever an alias, a static using or a
/// helper calls itself in the source, here it stands under its real name.
/// </summary>
internal sealed class AssemblyFacts
{
    private AssemblyFacts(string name, MetadataReader reader)
    {
        Name = name;
        References = [.. reader.AssemblyReferences.Select(h => reader.GetString(reader.GetAssemblyReference(h).Name)).Distinct()];
        Types = [.. reader.TypeReferences.Select(h => NameOf(reader, h)).Distinct()];
        Members = [.. reader.MemberReferences.Select(h => Member(reader, h)).OfType<UsedMember>()];
        NativeCalls = [.. reader.MethodDefinitions.Select(reader.GetMethodDefinition)
            .Where(m => (m.Attributes & System.Reflection.MethodAttributes.PinvokeImpl) != 0)
            .Select(m => reader.GetString(m.Name))];
        ChangeableStatics = [.. reader.FieldDefinitions.Select(reader.GetFieldDefinition).Where(IsChangeableStatic)
            .Where(f => !IsWrittenByTheCompiler(reader, f))
            .Select(f => $"{reader.GetString(reader.GetTypeDefinition(f.GetDeclaringType()).Name)}.{reader.GetString(f.Name)}")];
    }

    public string Name { get; }

    public IReadOnlyList<string> References { get; }

    /// <summary>Full names of all types from other assemblies; generic ones without their number of parameters.</summary>
    public IReadOnlyList<string> Types { get; }

    public IReadOnlyList<UsedMember> Members { get; }

    public IReadOnlyList<string> NativeCalls { get; }

    /// <summary>Static fields that can change after start-up: hidden state.</summary>
    public IReadOnlyList<string> ChangeableStatics { get; }

    public static AssemblyFacts Of(string assemblyFile)
    {
        var path = Path.Combine(AppContext.BaseDirectory, assemblyFile);
        using var file = new PEReader(File.OpenRead(path));
        return new AssemblyFacts(Path.GetFileNameWithoutExtension(assemblyFile), file.GetMetadataReader());
    }

    private static UsedMember? Member(MetadataReader reader, MemberReferenceHandle handle)
    {
        var member = reader.GetMemberReference(handle);
        var type = member.Parent.Kind switch
        {
            HandleKind.TypeReference => NameOf(reader, (TypeReferenceHandle)member.Parent),
            HandleKind.TypeSpecification => GenericNameOf(reader, (TypeSpecificationHandle)member.Parent),
            _ => null,
        };
        if (type is null) return null;
        var signature = reader.GetBlobReader(member.Signature);
        var header = signature.ReadSignatureHeader();
        int parameters = 0;
        if (header.Kind == SignatureKind.Method)
        {
            if (header.IsGeneric) signature.ReadCompressedInteger();
            parameters = signature.ReadCompressedInteger();
        }

        return new UsedMember(type, reader.GetString(member.Name), parameters);
    }

    private static string? GenericNameOf(MetadataReader reader, TypeSpecificationHandle handle)
    {
        var blob = reader.GetBlobReader(reader.GetTypeSpecification(handle).Signature);
        if (blob.ReadSignatureTypeCode() != SignatureTypeCode.GenericTypeInstance) return null;
        blob.ReadByte(); // class or value type
        var type = blob.ReadTypeHandle();
        return type.Kind == HandleKind.TypeReference ? NameOf(reader, (TypeReferenceHandle)type) : null;
    }

    private static string NameOf(MetadataReader reader, TypeReferenceHandle handle)
    {
        var type = reader.GetTypeReference(handle);
        var name = reader.GetString(type.Name);
        int tick = name.IndexOf('`', StringComparison.Ordinal);
        if (tick >= 0) name = name[..tick];
        if (type.ResolutionScope.Kind == HandleKind.TypeReference) return NameOf(reader, (TypeReferenceHandle)type.ResolutionScope) + "." + name;
        var space = reader.GetString(type.Namespace);
        return space.Length == 0 ? name : space + "." + name;
    }

    private static bool IsChangeableStatic(FieldDefinition field) =>
        (field.Attributes & System.Reflection.FieldAttributes.Static) != 0
        && (field.Attributes & (System.Reflection.FieldAttributes.InitOnly | System.Reflection.FieldAttributes.Literal)) == 0;

    // Cached delegates of lambdas and the like: their names hold a '<', which C# does not allow in a name.
    private static bool IsWrittenByTheCompiler(MetadataReader reader, FieldDefinition field) =>
        reader.GetString(field.Name).Contains('<', StringComparison.Ordinal)
        || reader.GetString(reader.GetTypeDefinition(field.GetDeclaringType()).Name).Contains('<', StringComparison.Ordinal);
}
