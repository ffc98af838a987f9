"""JSON Schema (draft 2020-12) of a record, so that editors complete and check the file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from slotwright import sizes
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
        case Sort.LENGTH | Sort.ANGLE | Sort.MASS | Sort.FORCE as sort:
            return {"type": "string", "pattern": sizes.pattern(sort), "maxLength": sizes.LONGEST_TEXT}
        case Sort.RECORD if parameter.record is not None:
            inner = schema(parameter.record)
            return {"anyOf": [{"type": "string"}, inner]} if parameter.or_name else inner
        case Sort.VARIANT if parameter.variants is not None:
            return _by_kind(parameter.variants())
        case _:
            return {"type": "string", "maxLength": 200}


def _by_kind(variants: Mapping[str, type[Record]]) -> dict[str, Any]:
    """Return one record or another by its kind, so that a fault is named where it is and not by the whole record."""
    return {
        "type": "object",
        "required": ["kind"],
        "properties": {"kind": {"enum": list(variants)}},
        "allOf": [
            {"if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]}, "then": _of_kind(record)}
            for kind, record in variants.items()
        ],
    }


def _of_kind(record: type[Record]) -> dict[str, Any]:
    inner = schema(record)
    return {**inner, "properties": {"kind": True, **inner["properties"]}}
