"""JSON Schema (draft 2020-12) of a record, so that editors complete and check the file."""

from __future__ import annotations

from typing import Any

from slotwright.records.parameters import Parameter, Record, Sort, parameters
from slotwright.records.starter import describe


def schema(record: type[Record]) -> dict[str, Any]:
    """Return the JSON Schema object of a record."""
    known = parameters(record)
    return {
        "type": "object",
        "additionalProperties": False,
        "required": [key for key, parameter in known.items() if parameter.required],
        "properties": {key: _property(parameter) for key, parameter in known.items()},
    }


def _property(parameter: Parameter) -> dict[str, Any]:
    item = _item(parameter)
    description = describe(parameter, "mm")
    if parameter.many:
        return {"type": "array", "maxItems": parameter.most, "items": item, "description": description}
    return {**item, "description": description}


def _item(parameter: Parameter) -> dict[str, Any]:
    match parameter.sort:
        case Sort.COUNT:
            return {"type": "integer", "minimum": parameter.low, "maximum": parameter.high}
        case Sort.FLAG:
            return {"type": "boolean"}
        case Sort.CHOICE:
            return {"enum": list(parameter.choices)}
        case Sort.NAME:
            return {"type": "string", "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$", "maxLength": 60}
        case Sort.RECORD if parameter.record is not None:
            inner = schema(parameter.record)
            return {"anyOf": [{"type": "string"}, inner]} if parameter.or_name else inner
        case Sort.VARIANT if parameter.variants is not None:
            return {"oneOf": [_of_kind(kind, cls) for kind, cls in parameter.variants().items()]}
        case _:
            return {"type": "string", "maxLength": 200}


def _of_kind(kind: str, record: type[Record]) -> dict[str, Any]:
    inner = schema(record)
    inner["properties"] = {"kind": {"const": kind}, **inner["properties"]}
    inner["required"] = ["kind", *inner["required"]]
    return inner
