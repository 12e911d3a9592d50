"""The tag that puts the sums of weld metal on the page of a job or an assembly: `{% weld_metal_of object %}`."""

from typing import Any

from django import template
from django.urls import reverse

from joints.models import Assembly, Job

register = template.Library()


@register.inclusion_tag("joints/weld_metal/_section.html")
def weld_metal_of(thing: Job | Assembly) -> dict[str, Any]:
    """A section whose sums are fetched once the page stands; without a script it is a link."""
    if isinstance(thing, Job):
        names = {"url": "joints:job_metal", "values_url": "joints:weld_values"}
    else:
        names = {"url": "joints:assembly_metal"}
    return {key: reverse(name, args=[thing.pk]) for key, name in names.items()}
