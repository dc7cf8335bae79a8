"""The shape of a plan file, version 1, as pydantic models.

They are the one list of the keys there are: files are checked against them, and the JSON Schema that
editors use is generated from them. What takes more than one value to judge (names, gear, order) is judged
elsewhere.
"""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Discriminator, Field, Tag
from pydantic.json_schema import GenerateJsonSchema

from scheduler.planfile import values as values
from scheduler.planfile.values import keyed


class Part(BaseModel):
    """Keys as cooks write them, and no others."""

    model_config = ConfigDict(
        extra="forbid", defer_build=True, alias_generator=lambda key: key.rstrip("_").replace("_", "-")
    )


class CookFile(Part):
    """One cook's own hours, where they are not the kitchen's."""

    awake: values.WallHours = Field(None, description="When this cook is up.")
    away: values.WallHours = Field(None, description="When this cook is up but not at home.")


def _cooks_are(value: object) -> str:
    if isinstance(value, dict):
        return "(mapping)"
    counted = not isinstance(value, str | list) or (isinstance(value, str) and value.strip().isdigit())
    return "(count)" if counted else "(list)"


Cooks = Annotated[
    Annotated[values.CookCount, Tag("(count)")]
    | Annotated[values.Names, Tag("(list)")]
    | Annotated[dict[values.Name, CookFile], keyed("cooks by name"), Tag("(mapping)")],
    Discriminator(_cooks_are),
]


class KitchenFile(Part):
    """Who and what there is to cook with."""

    awake: values.WallHours = Field(None, description="When the cooks are up.")
    away: values.WallHours = Field(None, description="When the cooks are up but not at home.")
    cooks: Cooks = Field(1, description="How many cooks, their names, or their names with their own hours.")
    gear: values.Gear = Field(
        default_factory=dict, description="What there is of each: {burner: 4, oven: 1}."
    )


class TendFile(Part):
    """A short touch that repeats during a wait."""

    name: values.MaybeName = Field(None, description="What to do.")
    every: values.Length = Field(description="How often, counted from the start of the step.")
    for_: values.MaybeLength = Field(None, description="For how long; to the end of the step when left out.")
    hands_on: values.Length = Field(description="How long one touch takes.")


class CoreFile(Part):
    """What is to be hot right through."""

    shape: values.CoreShape = Field(description="slab, cylinder or sphere.")
    thickness: values.Thickness = Field(description="How thick a slab is, or the diameter.")
    at: values.Celsius = Field(description="What the middle is to reach; the heat of a water bath.")
    start: values.Celsius = Field(description="How warm it is right through at the start.")
    food: values.CoreFood = Field(None, description="meat, poultry, ground, fish or plant.")


class RipensFile(Part):
    """A starter that was fed, and how warm it stands."""

    ratio: values.FeedRatio = Field(description="Starter, flour and water, by weight: 1:5:5.")
    at: values.Celsius = Field(description="How warm it stands.")


class StepFile(Part):
    """One thing to do or to wait for, with one of hands-on, nearby and unattended, or a sum that says how long."""

    model_config = ConfigDict(
        json_schema_extra={
            "anyOf": [
                {"oneOf": [{"required": [key]} for key in ("hands-on", "nearby", "unattended")]},
                {"required": ["ripens"]},
                {"required": ["core"]},
            ],
            "dependentRequired": {"usually": ["until"]},
        }
    )

    name: values.Name = Field(description="What to do, as an order, or what happens.")
    hands_on: values.Lasting = Field(None, description="How long it takes a cook.")
    nearby: values.Lasting = Field(None, description="How long it takes with someone awake and at home.")
    unattended: values.Lasting = Field(None, description="How long it takes by itself.")
    until: values.MaybeWords = Field(None, description="The sign by which it ends by itself.")
    usually: values.MaybeLength = Field(None, description="How long until then, as a rule.")
    at: values.MaybeCelsius = Field(None, description="The temperature it happens at.")
    tend: Annotated[TendFile | None, keyed("keys such as name, every, for, hands-on")] = Field(
        None, description="A short touch that repeats."
    )
    keeps: values.MaybeLength = Field(None, description="How long what it made may wait for its use.")
    wait: values.Wait = Field(None, description="How long after what it follows it starts.")
    gear: values.Names = Field(
        default_factory=list, description="What it takes up; a name again for a second one."
    )
    oven: values.MaybeOven = Field(None, description="The heat of the oven it takes up.")
    cook: values.MaybeName = Field(None, description="Who does it, when not just anyone.")
    optional: values.YesOrNo = Field(False, description="Whether the meal can do without it.")
    between: values.Between = Field(default_factory=list, description="The hours it may start in.")
    on: values.On = Field(default_factory=list, description="The days or dates it may start on.")
    buy: values.Lead = Field(None, description="How long before it what it needs is bought.")
    caution: values.MaybeWords = Field(None, description="What to beware of.")
    core: Annotated[CoreFile | None, keyed("keys such as shape, thickness, at, start")] = Field(
        None, description="What is to be hot right through; it gives a shortest time."
    )
    ripens: Annotated[RipensFile | None, keyed("keys such as ratio, at")] = Field(
        None, description="How a starter was fed, in place of how long it takes."
    )
    ferment: values.FermentKind = Field(None, description="What kind of ferment it is: cabbage, cucumbers.")
    amounts: values.Amounts = Field(default_factory=dict, description="What goes in, and how much.")
    after: values.Names = Field(default_factory=list, description="Steps or components it comes after.")


class ComponentFile(Part):
    """A part of the meal made on its own: steps, one after another."""

    name: values.Name = Field(description="What is made.")
    optional: values.YesOrNo = Field(False, description="Whether the meal can do without it.")
    steps: list[StepFile] = Field(min_length=1, description="What to do, in order.")


class PlanFile(Part):
    """A meal: what is made of what, in which order, in which kitchen, for when."""

    model_config = ConfigDict(title="Crockbell plan, version 1")

    crockbell: values.Version = Field(description="The version of this format: 1.")
    title: values.Name = Field(description="What the meal is called.")
    serves: values.Served = Field(None, description="How many it feeds.")
    serve: values.Moment = Field(None, description="The hour at the table, by the clock there.")
    zone: values.MaybeName = Field(None, description="The IANA time zone, such as Europe/Paris.")
    kitchen: Annotated[KitchenFile | None, keyed("keys such as awake, away, cooks, gear")] = Field(
        None, description="Who and what there is to cook with."
    )
    components: list[ComponentFile] = Field(min_length=1, description="The parts of the meal.")


class _Generator(GenerateJsonSchema):
    def default_schema(self, schema: Any) -> dict[str, Any]:
        """A key that may be left out has no default a file could write."""
        shape = super().default_schema(schema)
        if shape.get("default", ...) is None:
            del shape["default"]
        return shape

    def nullable_schema(self, schema: Any) -> dict[str, Any]:
        """A key that is written has a value."""
        return self.generate_inner(schema["schema"])

    def tagged_union_schema(self, schema: Any) -> dict[str, Any]:
        """Text may be both a name and a number."""
        return {"anyOf": super().tagged_union_schema(schema)["oneOf"]}

    def field_title_should_be_set(self, schema: Any) -> bool:
        """A title that only repeats the key says nothing."""
        return False


def json_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a plan file."""
    shape = PlanFile.model_json_schema(schema_generator=_Generator)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **shape}
